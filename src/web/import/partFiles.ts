import { withoutEnding } from '../../core/withoutEnding.ts'
import { type LogOptions, partsOfLog } from '../../logs/index.ts'
import type { PartFile } from './importState.ts'

/** The tables of a file, each as a file of its own: the lines above them all, then its own, as they stand. */
export async function partFiles(file: File, options: LogOptions): Promise<PartFile[]> {
  const bytes = new Uint8Array(await file.arrayBuffer())
  const ending = file.name.slice(withoutEnding(file.name).length)
  return partsOfLog(bytes, file.name, options).map(({ title, text }, i) => ({
    title,
    file: new File([text], `${withoutEnding(file.name)}, ${fileWords(title ?? `part ${i + 1}`)}${ending}`, {
      lastModified: file.lastModified,
    }),
  }))
}

/** What no file system takes in a name. */
const fileWords = (title: string): string => title.replace(/[/\\:*?"<>|]+/g, '-')
