/** Capture: lines from a device → recordings that nothing can take away. Public names in the order of the work. */

export type { LiveListener } from './deliver.ts'
export { discardJournal, type Recovered, recoverJournals } from './journal/recover.ts' // after a crash
export { NO_PLAN, openSession, type Session, type SessionOptions, type Snapshot } from './session.ts'
export type { Source, SourceKind, SourceListener } from './source.ts'
export { listPorts, type PortInfo } from './sources/ports.ts' // which lines there are
export { type PretendOptions, pretendSource } from './sources/pretend.ts'
export { serialSource, USUAL_BAUD } from './sources/serial.ts'
export { streamSource } from './sources/stream.ts'
export { tcpSource } from './sources/tcp.ts'
export type { CaptureState, Phase } from './state.ts'
export type {
  About,
  Alarm,
  AlarmCode,
  Captured,
  LiveEvent,
  LiveFigures,
  LiveMessage,
  RecordingPlan,
  SampleBatch,
  Troubles,
} from './types.ts'
