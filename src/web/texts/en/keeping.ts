const recordings = (n: number): string => (n === 1 ? '1 recording' : `${n} recordings`)

export const keepingTexts = {
  heading: 'Kept in this browser',
  storeHeading: 'Kept in the store',
  inStore: (place: string) =>
    `Your studies lie in the store of the computer that Tenterhook runs on${place === '' ? '' : ` (${place})`}. One file holds all of them: for another disk, another computer, or a page without a server.`,
  promised:
    'Your studies lie in this browser on this device, and nowhere else. It has promised not to delete them by itself; clearing its data, or removing the browser, deletes them all the same. A file that you saved elsewhere is the only copy that survives that.',
  notPromised:
    'Your studies lie in this browser on this device, and nowhere else. It may delete them by itself when the disk gets full; clearing its data, or closing a private window, deletes them too. Ask it to keep them, and save a file elsewhere.',
  unsaved: (n: number) =>
    `${recordings(n)} ${n === 1 ? 'is' : 'are'} in this browser alone, in no saved file.`,
  save: 'Save everything as one file',
  saved: 'Everything that is here was handed to the browser as one file. Keep it on another disk.',
  fileName: (day: string) => `tenterhook-${day}.jsonl.gz`,
  take: 'Take in a saved file …',
  ask: 'Ask the browser to keep them',
  taken: (added: number, known: number, renamed: readonly string[]) =>
    [
      `${added} entries were added, ${known} were here already.`,
      ...(renamed.length > 0 ? [`Names that were taken: ${renamed.join(', ')}.`] : []),
    ].join(' '),
  seen: 'Seen',
  recovered: (n: number, samples: number) =>
    `${recordings(n)} that ${n === 1 ? 'was' : 'were'} cut off ${n === 1 ? 'is' : 'are'} whole again: ${samples} samples, up to the last moment before the page was closed.`,
}
