import type { Recording } from './recording.ts'

/** The recording of a log whose SHA-256 is known now: it stands with the whole and with every segment. */
export const withHash = (recording: Recording, sha256: string): Recording => ({
  ...recording,
  sha256,
  segments: recording.segments.map(segment => ({ ...segment, sha256 })),
})
