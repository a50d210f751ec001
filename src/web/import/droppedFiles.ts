/**
 * The files of a drop, those in dropped folders too. To be called while the drop is heard: later the browser has
 * forgotten what was in it.
 */
export function droppedFiles({ items, files }: DataTransfer): Promise<File[]> {
  const plain = [...files]
  const entries = [...items].map(item => item.webkitGetAsEntry())
  return entries.some(entry => entry?.isDirectory)
    ? Promise.all(entries.map(entry => (entry ? filesIn(entry) : []))).then(found => found.flat())
    : Promise.resolve(plain)
}

async function filesIn(entry: FileSystemEntry): Promise<File[]> {
  if (entry.isFile)
    return [await new Promise<File>((give, fail) => (entry as FileSystemFileEntry).file(give, fail))]
  const reader = (entry as FileSystemDirectoryEntry).createReader()
  const found: File[] = []
  // A reader gives some at a time, and none once it is through.
  for (;;) {
    const some = await new Promise<FileSystemEntry[]>((give, fail) => reader.readEntries(give, fail))
    if (some.length === 0) return found
    for (const one of some) found.push(...(await filesIn(one)))
  }
}
