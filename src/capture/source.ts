import type { Problem } from '../core/problem.ts'

/** `page`: a serial port that a page in a browser reads and hands on. */
type SourceKind = 'serial' | 'tcp' | 'stream' | 'page' | 'pretend'

/** What a source tells while it runs. None of these may throw. */
export interface SourceListener {
  /** The line is open; said again after it was lost and came back. */
  opened(): void
  /** Bytes, at the moment the read that brought them returned. The array is the listener's to keep. */
  bytes(chunk: Uint8Array): void
  /**
   * The line went away by itself (cable pulled, network lost); the source goes on trying to open it again.
   */
  lost(problem: Problem): void
}

/**
 * Where samples come from. A source only listens: the one thing that it may ever say to a device is `send`,
 * and the session says only lines of our own protocol about logging, and only to a device that greeted with
 * that protocol.
 */
export interface Source {
  readonly kind: SourceKind
  /** For people: `serial line COM3`. */
  readonly name: string
  /**
   * Opens the line and listens until `stop` fires or the line has come to its end for good. Resolves with
   * `null` then, and with the problem where it could not be opened in the first place. Never rejects. May run
   * once.
   */
  run(listener: SourceListener, stop: AbortSignal): Promise<Problem | null>
  /** Says a line to the device; `null` where there is no way back. */
  readonly send: ((line: string) => void) | null
}
