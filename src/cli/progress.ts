import type { Io } from './io.ts'

/** Work that is done sooner than this says nothing. */
const SILENT_MS = 1_000
const ON_A_TERMINAL_MS = 100
const IN_A_FILE_MS = 2_000

export interface Progress {
  /** How much is done; both in the same measure. */
  tell(done: number, all: number): void
  /** Takes the line away again. */
  end(): void
}

/** Progress on standard error: one line that renews itself on a terminal, a line now and then elsewhere. */
export function progress(
  io: Pick<Io, 'err' | 'errIsTerminal'>,
  title: string,
  now = () => Date.now(),
): Progress {
  const begunMs = now()
  let toldMs = begunMs + SILENT_MS - (io.errIsTerminal ? ON_A_TERMINAL_MS : IN_A_FILE_MS)
  let shown = false
  return {
    tell(done, all) {
      const nowMs = now()
      if (nowMs - toldMs < (io.errIsTerminal ? ON_A_TERMINAL_MS : IN_A_FILE_MS)) return
      toldMs = nowMs
      const share = all > 0 ? ` ${Math.floor((100 * Math.min(done, all)) / all)} %` : ''
      io.err(io.errIsTerminal ? `\r\u001b[2K${title}${share}` : `${title}${share}\n`)
      shown = true
    },
    end() {
      if (shown && io.errIsTerminal) io.err('\r\u001b[2K')
    },
  }
}
