import { type LiveMessage, NO_PLAN, openSession, type Session } from '../../../src/capture/index.ts'
import { type HandSource, handSource } from '../handSource.ts'
import { type MemoryFiles, memoryFiles } from '../memoryFiles.ts'

/** A recording that runs over a line in the test's own hands, with all that it told. */
export interface Bench {
  readonly session: Session
  readonly line: HandSource
  readonly files: MemoryFiles
  readonly told: LiveMessage[]
}

export async function recording(): Promise<Bench> {
  const line = handSource()
  const files = memoryFiles()
  const opened = await openSession({ source: line, journals: '/j', files })
  if (!opened.ok) throw new Error(opened.problems[0]?.what)
  const told: LiveMessage[] = []
  opened.value.subscribe(message => told.push(message))
  await opened.value.start(NO_PLAN)
  return { session: opened.value, line, files, told }
}

export const notes = ({ told }: Bench): string[] => told.flatMap(m => (m.kind === 'note' ? [m.text] : []))

/** Random bytes with a seed (xorshift, Marsaglia 2003). */
export function noise(bytes: number, seed: number): Uint8Array {
  let x = seed
  return new Uint8Array(bytes).map(() => {
    x ^= x << 13
    x ^= x >>> 17
    x ^= x << 5
    return x & 0xff
  })
}
