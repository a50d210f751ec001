/** Capture: lines from a device → recordings that nothing can take away. Public names in the order of the work. */

export { type JournalsThere, journalsIn, openJournal, recoverJournals } from './journal/recover.ts' // after a crash
export { bytesText, roomOn } from './session/room.ts' // is there room to record?
export { NO_PLAN, openSession, type Session, type Snapshot } from './session.ts' // a line, and its recordings
export type { Source, SourceListener } from './source.ts' // where samples come from
export { type PagePort, pagePort } from './sources/page.ts' // a port that a page reads
export { listPorts, type PortInfo } from './sources/ports.ts' // which lines there are
export { pretendSource } from './sources/pretend.ts'
export { serialSource } from './sources/serial.ts'
export { streamSource } from './sources/stream.ts'
export { tcpSource } from './sources/tcp.ts'
export type { CaptureState } from './state.ts'
export type {
  Alarm,
  Captured,
  LineRig,
  LiveEvent,
  LiveFigures,
  LiveMessage,
  LiveNote,
  RecordingPlan,
  TurnsTapped,
  ZeroTaken,
} from './types.ts'
