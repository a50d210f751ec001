/** The server: HTTP over the store, the live stream, and what puts recordings and readings into the store. */

export { previewReading, readSpecimen, recordingOf, specimenRecording } from './specimenReading.ts'
export { type RunningServer, type ServerOptions, startServer } from './start.ts'
export { journalsFolder, recoverIntoStore, storeCaptured } from './storeCaptured.ts'
