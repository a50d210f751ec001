import { capturedFrom } from '../../src/capture/captured.ts'
import { type Captured, type CapturedWhole, journalsIn, openJournal } from '../../src/capture/index.ts'
import type { FileLayer } from '../../src/capture/journal/files.ts'
import { diskFiles } from '../../src/capture/node/diskFiles.ts'
import type { Outcome, Problem } from '../../src/core/problem.ts'

/** A recording that has ended, which must be held whole. */
export function whole(ended: Outcome<Captured>): Extract<Captured, CapturedWhole> {
  if (!ended.ok) throw new Error(ended.problems[0]?.what)
  if (ended.value.recording === null) throw new Error('nothing was made of it')
  return ended.value
}

/**
 * What would be recovered if the program were killed now: the only journal of the folder as it is at this
 * moment.
 */
export async function journaled(files: FileLayer, folder = '/j'): Promise<CapturedWhole> {
  const [name, ...others] = await files.list(folder)
  if (name === undefined || others.length > 0) throw new Error(`${others.length + 1} journals`)
  const path = `${folder}/${name}`
  const captured = capturedFrom(await files.read(path), path, 'recovered')
  if (!captured.ok) throw new Error(captured.problems[0]?.what)
  return captured.value
}

/** The recordings of all journals left behind in a folder. */
export async function leftIn(folder: string, files: FileLayer = diskFiles) {
  const { left, inUse, problems } = await journalsIn(folder, files)
  const captured: CapturedWhole[] = []
  const all: Problem[] = [...problems]
  for (const path of left) {
    const opened = await openJournal(path, 'recovered', files)
    if (!opened.ok) all.push(...opened.problems)
    else if (opened.value.recording !== null) captured.push(opened.value)
  }
  return { captured, inUse, problems: all }
}
