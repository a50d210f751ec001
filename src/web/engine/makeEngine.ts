import { transfer } from 'comlink'
import { curveOrigins } from '../../core/reading/curveOrigins.ts'
import { joinedCurve } from '../../core/reading/joinedCurve.ts'
import { selvedge } from '../../core/reading/selvedge.ts'
import { zeroChoices } from '../../core/reading/zeroWords.ts'
import type { Recording } from '../../core/recording.ts'
import { firstAtOrAfter } from '../../core/signal/search.ts'
import { thinned } from '../../core/signal/thin.ts'
import { compareStudy } from '../../core/statistics/compare/compareStudy.ts'
import { withHash } from '../../core/withHash.ts'
import { readLog } from '../../logs/index.ts'
import { problemsOf } from '../data/trouble.ts'
import { joinedLook } from './joinedLook.ts'
import { loadSpecimen } from './loadSpecimen.ts'
import { logLook } from './logLook.ts'
import { keepLooks } from './looks.ts'
import { recordedForces } from './recordedForces.ts'
import { sha256Hex } from './sha256.ts'
import type { Answer, Engine } from './types.ts'

/** The engine, to be run in this thread. `samplesOf` fetches what was recorded, from wherever the studies are kept. */
export function makeEngine(samplesOf: (recordingId: string) => Promise<Recording>): Engine {
  const lookAt = keepLooks(samplesOf)

  return {
    preview: (log, name, options) =>
      answered(async () => {
        const bytes = new Uint8Array(await log.arrayBuffer())
        return { ok: true, value: logLook(bytes, sha256Hex(bytes), name, options) }
      }),
    parse: (bytes, name, options) =>
      answered(async () => {
        const read = readLog(bytes, name, options)
        return read.ok ? { ok: true, value: withHash(read.value, sha256Hex(bytes)) } : read
      }),
    look: at =>
      answered(async () => {
        const found = await lookAt(at)
        if (!found.ok) return found
        const { look, specimen, reading, options } = found.value
        const { recording } = specimen
        return {
          ok: true,
          value: {
            look,
            reading,
            options,
            selvedge: selvedge(recording, reading),
            zeroChoices: zeroChoices(recording, reading),
            samples: recording.timeS.length,
            segments: recording.segments,
            channels: recording.channels.map(({ name, kind, unit }) => ({ name, kind, unit })),
            notes: recording.notes,
          },
        }
      }),
    joined: (at, part) =>
      answered(async () => {
        const found = await lookAt(at)
        if (!found.ok) return found
        const { specimen, reading, joined, along } = found.value
        const { recording } = specimen
        return {
          ok: true,
          value: joinedLook(joined(), along(), {
            reading,
            timeS: recording.timeS,
            selvedge: selvedge(recording, reading),
            part,
          }),
        }
      }),
    curve: (at, kind, stretch) =>
      answered(async () => {
        const found = await lookAt(at)
        if (!found.ok) return found
        const value = found.value.slice(kind, stretch)
        // Fresh arrays of this answer alone: handed over, not copied.
        return transfer({ ok: true, value } as const, [
          value.timeS.buffer as ArrayBuffer,
          value.value.buffer as ArrayBuffer,
        ])
      }),
    rows: (at, aroundS, count) =>
      answered(async () => {
        const found = await lookAt(at)
        if (!found.ok) return found
        const { recording } = found.value.specimen
        const { timeS, forceN } = recording
        const middle = firstAtOrAfter(timeS, aroundS)
        const from = Math.max(0, Math.min(middle - Math.floor(count / 2), timeS.length - count))
        const to = Math.min(timeS.length, from + count)
        const recordedN = await recordedForces(at.source.recordingIds, recording, { from, to }, samplesOf)
        return {
          ok: true,
          value: {
            firstSample: from,
            timeS: timeS.slice(from, to),
            forceN: recordedN ?? forceN.slice(from, to),
            correctedN: found.value.corrected().slice(from, to),
          },
        }
      }),
    overlay: (source, reading, { pixels, againstTime }) =>
      answered(async () => {
        const specimen = await loadSpecimen(source, samplesOf)
        if (!specimen.ok) return specimen
        const { recording } = specimen.value
        const curve = joinedCurve(recording, reading, { againstTime })
        const { timeS: along, value: forceN } = thinned(curve.along, curve.forceN, pixels)
        const origins = curveOrigins(curve, recording, reading)
        return { ok: true, value: { against: curve.against, along, forceN, origins } }
      }),
    compare: (study, options) => answered(async () => compareStudy(study, options)),
  }
}

/** A fault inside becomes an answer too: a thread that died in silence would leave the page waiting. */
export async function answered<T>(work: () => Promise<Answer<T>>): Promise<Answer<T>> {
  try {
    return await work()
  } catch (error) {
    return { ok: false, problems: problemsOf(error) }
  }
}
