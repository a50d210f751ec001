import type { LogItem } from './types.ts'

/**
 * When a log began if it ended as its file was last written, ISO 8601: a suggestion, as a file that was copied may have
 * another time. `null` where the log tells the day itself, or nobody knows when its file was written.
 */
export function startByFile({ file, look }: Pick<LogItem, 'file' | 'look'>): string | null {
  if (!look?.read.ok || file.lastModified <= 0) return null
  const { startedAt, startS, endS } = look.read.value
  if (startedAt !== null || startS === null || endS === null) return null
  return new Date(file.lastModified - 1000 * (endS - startS)).toISOString()
}

/** Those whose day is not known but for their files: what can be suggested for them can be taken or left at once. */
export const suggestedByFile = (items: readonly LogItem[]): readonly LogItem[] =>
  items.filter(
    item => item.known === null && item.kept === 'no' && !item.leftOut && startByFile(item) !== null,
  )
