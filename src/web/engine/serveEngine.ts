import { expose, transfer } from 'comlink'
import { selvedge } from '../../core/reading/selvedge.ts'
import type { Recording } from '../../core/recording.ts'
import { sliceForDisplay } from '../../core/signal/pyramid.ts'
import { compareStudy } from '../../core/statistics/compare/compareStudy.ts'
import { problemsOf } from '../data/trouble.ts'
import { logLook } from './logLook.ts'
import { keepLooks } from './looks.ts'
import { sha256Hex } from './sha256.ts'
import type { Answer, Engine } from './types.ts'

/** Runs the engine in this thread. `samplesOf` fetches what was recorded, from wherever the studies are kept. */
export function serveEngine(samplesOf: (recordingId: string) => Promise<Recording>): void {
  const lookAt = keepLooks(samplesOf)

  const engine: Engine = {
    preview: (bytes, name, options) => answered(async () => logLook(bytes, sha256Hex(bytes), name, options)),
    look: at =>
      answered(async () => {
        const found = await lookAt(at)
        if (!found.ok) return found
        const { look, specimen, reading } = found.value
        const { recording } = specimen
        const joined = found.value.joined()
        return {
          ok: true,
          value: {
            look,
            reading,
            selvedge: selvedge(recording, reading),
            samples: recording.timeS.length,
            segments: recording.segments,
            channels: recording.channels.map(({ name, kind, unit }) => ({ name, kind, unit })),
            notes: recording.notes,
            joined: {
              against: joined.against,
              unit: joined.unit,
              joins: joined.joins,
              fromAlong: joined.along[0] ?? 0,
              toAlong: joined.along.at(-1) ?? 0,
            },
          },
        }
      }),
    curve: (at, kind, { from, to, pixels }) =>
      answered(async () => {
        const found = await lookAt(at)
        if (!found.ok) return found
        const value = sliceForDisplay(found.value.pyramid(kind), from, to, pixels)
        // Fresh arrays of this answer alone: handed over, not copied.
        return transfer({ ok: true, value } as const, [
          value.timeS.buffer as ArrayBuffer,
          value.value.buffer as ArrayBuffer,
        ])
      }),
    rows: (at, firstSample, count) =>
      answered(async () => {
        const found = await lookAt(at)
        if (!found.ok) return found
        const { timeS, forceN } = found.value.specimen.recording
        const from = Math.max(0, Math.min(firstSample, timeS.length))
        const to = Math.min(timeS.length, from + count)
        return {
          ok: true,
          value: {
            firstSample: from,
            timeS: timeS.slice(from, to),
            forceN: forceN.slice(from, to),
            correctedN: found.value.corrected().slice(from, to),
          },
        }
      }),
    compare: (study, options) => answered(async () => compareStudy(study, options)),
  }
  expose(engine)
}

/** A fault inside becomes an answer too: a thread that died in silence would leave the page waiting. */
async function answered<T>(work: () => Promise<Answer<T>>): Promise<Answer<T>> {
  try {
    return await work()
  } catch (error) {
    return { ok: false, problems: problemsOf(error) }
  }
}
