/** A log of any shape → a recording; a recording → tables. Public names in reading order. */

export { joinRecordings } from './joinRecordings.ts' // logs of one specimen → one recording
export type { LineItem, LineSample } from './live/lineItem.ts'
export { createLineReader, type LineReader } from './live/lineReader.ts' // bytes as they arrive → samples
export { startedAtOf } from './meaning/startedAt.ts' // when a log began, where its stamps say
export { HEAD_BYTES, type LogReader, openLog, readEach, readLog } from './openLog.ts' // bytes → recording
export { type LogOptions, TIME_UNITS, type TimeUnitWord } from './options.ts'
export type { LogPart } from './parts/logPart.ts'
export { MOST_PARTED_BYTES, partOptions, partsOfLog } from './parts/partsOfLog.ts' // tables of one file
export { mayBeSeveral, type ReadPart } from './parts/readParts.ts'
export { type BarePicture, barePicture } from './picture/barePicture.ts'
export { readTable, type Table, type TableRow, tableNumber } from './readTable.ts' // small tables
export type { SpecimenRow } from './specimens/document.ts'
export {
  factsOf,
  fewFacts,
  readJoined,
  readSpecimen,
  type SpecimenFacts,
  type SpecimenRead,
} from './specimens/readSpecimen.ts' // a specimen's recordings → its reading
export { readSpecimensTable } from './specimens/readSpecimensTable.ts'
export {
  dayOfPull,
  type RecordedParts,
  rigOfEntries,
  type SpecimenRecording,
  specimenRecording,
  toldCapacityN,
} from './specimens/specimenRecording.ts'
export { readSharedRows, type SharedRows, sharedEnd } from './table/sharedRows.ts' // rows read by several threads
export { type CsvOptions, writeCsv, writeCsvInBlocks } from './write/csv.ts' // recording → tables
export { writeJsonLines, writeJsonLinesInBlocks } from './write/jsonLines.ts'
export { writeParquet } from './write/parquet.ts'
export { recordingBlock, recordingFromBlock } from './write/recordingBlock.ts' // between parts of the program
