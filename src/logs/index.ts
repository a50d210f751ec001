/** A log of any shape → a recording; a recording → tables. Public names in reading order. */
export { type LogReader, openLog, readLog } from './openLog.ts'
export type { LogOptions } from './options.ts'
