/** What a command may touch of the world around it, so that tests can stand in for it. */
export interface Io {
  out(text: string): void
  err(text: string): void
  /** Colour and progress only where a person looks on. */
  readonly outIsTerminal: boolean
  readonly errIsTerminal: boolean
  readonly columns: number
  readonly env: Readonly<Record<string, string | undefined>>
}

export const processIo = (): Io => ({
  out: text => void process.stdout.write(text),
  err: text => void process.stderr.write(text),
  outIsTerminal: process.stdout.isTTY === true,
  errIsTerminal: process.stderr.isTTY === true,
  columns: process.stdout.columns ?? 100,
  env: process.env,
})

/**
 * Exit codes, the same for every command (docs/command-line.md).
 * `doubtful` is for checks whose answer is no: a daily check out of its limits, a package that does not verify.
 */
export const EXIT = { ok: 0, doubtful: 1, usage: 2, input: 3, output: 4, internal: 70 } as const
export type ExitCode = (typeof EXIT)[keyof typeof EXIT]
