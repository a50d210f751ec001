import { capturedFrom } from '../../src/capture/captured.ts'
import type { Captured } from '../../src/capture/index.ts'
import type { FileLayer } from '../../src/capture/journal/files.ts'
import type { Keeping } from '../../src/capture/types.ts'

/** A journal that lies where it is and is nobody's. */
export const lyingAt = (path: string): Keeping => ({
  path,
  heldBytes: 0,
  trouble: null,
  onDisk: Promise.resolve(),
  tryNow: async () => null,
  moveTo: async () => null,
  discard: async () => {},
  leave: async () => {},
})

/** What would be recovered if the program were killed now: the only journal of the folder as it is at this moment. */
export async function journaled(files: FileLayer, folder = '/j'): Promise<Captured> {
  const [name, ...others] = await files.list(folder)
  if (name === undefined || others.length > 0) throw new Error(`${others.length + 1} journals`)
  const path = `${folder}/${name}`
  const captured = capturedFrom(await files.read(path), lyingAt(path), 'recovered')
  if (!captured.ok) throw new Error(captured.problems[0]?.what)
  return captured.value
}
