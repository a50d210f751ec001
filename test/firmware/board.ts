import { execFile, execFileSync } from 'node:child_process'
import { join } from 'node:path'
import { promisify } from 'node:util'

const here = import.meta.dirname
const root = join(here, '..', '..')
const run = promisify(execFile)

/** The program built for the board, and the bench that emulates board and converter: both fresh, in a folder. */
export function buildBoard(folder: string): { elf: string; bench: string } {
  execFileSync(join(root, 'firmware', 'build.sh'), [folder])
  const bench = join(folder, 'bench')
  execFileSync('gcc', [
    '-O2',
    '-Wall',
    '-Wextra',
    '-Werror',
    '-o',
    bench,
    join(here, 'bench.c'),
    '-lsimavr',
    '-lm',
  ])
  return { elf: join(folder, 'device.elf'), bench }
}

export interface BoardRun {
  readonly conversions: number
  readonly taken: number
  readonly slipped: number
}

/** Runs the board for so many of its own seconds, with faults as bench.c says; what it says goes to `out`. */
export async function runBoard(
  { elf, bench }: { elf: string; bench: string },
  out: string,
  { seconds, rateHz, faults = [] }: { seconds: number; rateHz: number; faults?: readonly string[] },
): Promise<BoardRun> {
  const { stdout } = await run(bench, [elf, out, String(seconds), String(rateHz), ...faults])
  const [conversions = 0, taken = 0, slipped = 0] = stdout.trim().split('\n').at(-1)!.split(' ').map(Number)
  return { conversions, taken, slipped }
}
