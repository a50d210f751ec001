import { DEMO } from '../../../src/capture/pretend/demoFacts.ts'
import { demoStudy } from '../../../src/capture/pretend/index.ts'
import type { Reading } from '../../../src/core/reading/document.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { Recording } from '../../../src/core/recording.ts'
import { joinRecordings } from '../../../src/logs/index.ts'
import type { Take } from '../../../src/publish/clip/take.ts'
import { clipTrack } from '../../../src/publish/clip/track.ts'
import { placedByHand } from '../../../src/publish/sync/place.ts'

export interface DemoRead {
  readonly name: string
  readonly recording: Recording
  readonly reading: Reading
}

/** The specimens of the demo, read: all, or one of them. */
export function demoRead(only: string | null = null): DemoRead[] {
  const study = demoStudy(DEMO.seed).filter(({ specimen }) => only === null || specimen === only)
  return study.map(({ specimen, logs, row }) => {
    const recordings = logs.map(log => log.recording)
    const joined = recordings.length === 1 ? null : joinRecordings(recordings)
    if (joined !== null && !joined.ok) throw new Error(joined.problems[0]?.what)
    const recording = joined === null ? recordings[0]! : joined.value
    const { elements } = row
    const none = { widthMm: null, thicknessMm: null, lengthMm: null, mode: null, note: null }
    const facts = { name: specimen, variant: row.variant, elements, ...none }
    return { name: specimen, recording, reading: readRecording(recording, { elements, specimen: facts }) }
  })
}

/** A specimen of the demo whose recording begins at `offsetS` of the clip. */
export function demoTake(name: string, offsetS: number): Take {
  const { recording, reading } = demoRead(name)[0]!
  return {
    track: clipTrack(recording, reading, { name, unit: 'kgf' }),
    place: placedByHand(recording, offsetS),
  }
}
