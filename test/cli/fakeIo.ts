import type { Io } from '../../src/cli/io.ts'
import { run } from '../../src/cli/run.ts'

export interface Ran {
  readonly code: number
  readonly out: string
  readonly err: string
}

/** Runs a command line in this process, as a pipe would see it unless told otherwise. */
export async function ran(words: readonly string[], world: Partial<Io> = {}): Promise<Ran> {
  let out = ''
  let err = ''
  const io: Io = {
    out: text => {
      out += text
    },
    err: text => {
      err += text
    },
    outIsTerminal: false,
    errIsTerminal: false,
    columns: 100,
    env: {},
    ...world,
  }
  const code = await run(words, io)
  return { code, out, err }
}
