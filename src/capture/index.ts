/**
 * Capture: lines from a device → recordings that nothing can take away. Public names in the order of the
 * work.
 */

export type { JournalsThere } from './journal/recover.ts'
export { MOST_AT_ONCE } from './long/assembleLong.ts' // more samples are not held whole
export { diskFiles } from './node/diskFiles.ts'
export {
  journalInUse, // after a crash
  journalsIn,
  openJournal,
  openSession, // a line, and its recordings
  roomOn, // is there room to record?
} from './node/onThisComputer.ts'
export { listPorts } from './node/ports.ts' // which lines there are
export { serialSource } from './node/serial.ts'
export { streamSource } from './node/stream.ts'
export { tcpSource } from './node/tcp.ts'
export { bytesText } from './session/room.ts'
export { NO_PLAN, type Session, type Snapshot } from './session.ts'
export type { Source, SourceListener } from './source.ts' // where samples come from
export { type PagePort, pagePort } from './sources/page.ts' // a port that a page reads
export type { PortInfo } from './sources/portTypes.ts'
export { pretendSource } from './sources/pretend.ts'
export type { CaptureState } from './state.ts'
export type {
  Alarm,
  Captured,
  CapturedFacts,
  CapturedWhole,
  LiveEvent,
  LiveFigures,
  LiveMessage,
  LiveNote,
  RecordingPlan,
  TurnsTapped,
  ZeroTaken,
} from './types.ts'
