import { fine, type Outcome } from '../../core/problem.ts'
import { amendmentsOf } from '../../core/reading/adjustment.ts'
import { correctedForce } from '../../core/reading/correctedForce.ts'
import type { Reading } from '../../core/reading/document.ts'
import { type JoinedCurve, joinedCurve } from '../../core/reading/joinedCurve.ts'
import type { Recording } from '../../core/recording.ts'
import { buildPyramid, type Pyramid, sliceForDisplay, type Thinned } from '../../core/signal/pyramid.ts'
import { firstAfter, firstAtOrAfter } from '../../core/signal/search.ts'
import { readJoined, type SpecimenRecording } from '../../logs/index.ts'
import { type AlongCurve, alongCurve, alongSlice } from './alongCurve.ts'
import { loadSpecimen } from './loadSpecimen.ts'
import type { CurveKind, LookAt, SpecimenSource, Stretched } from './types.ts'

/** A reading and the curves that were asked of it so far. */
export interface KeptLook {
  readonly look: string
  readonly specimen: SpecimenRecording
  readonly reading: Reading
  readonly options: object
  corrected(): Float64Array
  joined(): JoinedCurve
  along(): AlongCurve
  slice(kind: CurveKind, stretch: Stretched): Thinned
}

/** Specimens whose samples stay in memory, and looks at them: before and after, and a neighbour or two. */
const KEPT_SPECIMENS = 3
const KEPT_LOOKS = 6

/** Reads specimens and keeps the last few, so that a change of one adjustment does not load samples anew. */
export function keepLooks(samplesOf: (recordingId: string) => Promise<Recording>) {
  const specimens = new Map<string, Promise<Outcome<SpecimenRecording>>>()
  const rawPyramids = new Map<string, Pyramid>()
  const looks = new Map<string, KeptLook>()

  const specimenOf = (source: SpecimenSource): Promise<Outcome<SpecimenRecording>> =>
    kept(
      specimens,
      keyOf(source),
      KEPT_SPECIMENS,
      () => loadSpecimen(source, samplesOf),
      key => rawPyramids.delete(key),
    )

  const rawPyramid = (key: string, recording: Recording, reading: Reading): Pyramid =>
    kept(rawPyramids, key, KEPT_SPECIMENS, () =>
      buildPyramid(recording.timeS, recording.forceN, reading.recording.gaps),
    )

  return async function lookAt(at: LookAt): Promise<Outcome<KeptLook>> {
    const look = JSON.stringify([keyOf(at.source), at.facts, at.adjustments])
    const known = looks.get(look)
    if (known) return fine(known)
    const specimen = await specimenOf(at.source)
    if (!specimen.ok) {
      specimens.delete(keyOf(at.source))
      return specimen
    }
    const { recording } = specimen.value
    const { reading, options } = readJoined(specimen.value, at.facts, at.adjustments)
    const corrected = once(() => correctedForce(recording, reading))
    const joined = once(() => joinedCurve(recording, reading))
    const along = once(() => alongCurve(joined()))
    const correctedPyramid = once(() =>
      buildPyramid(recording.timeS, withoutCutParts(recording, corrected(), at), reading.recording.gaps),
    )
    const slice = (kind: CurveKind, { from, to, pixels }: Stretched): Thinned => {
      if (kind === 'joined') return alongSlice(along(), from, to, pixels)
      const pyramid = kind === 'raw' ? rawPyramid(keyOf(at.source), recording, reading) : correctedPyramid()
      return sliceForDisplay(pyramid, from, to, pixels)
    }
    return fine(
      kept(looks, look, KEPT_LOOKS, () => ({
        look,
        specimen: specimen.value,
        reading,
        options,
        corrected,
        joined,
        along,
        slice,
      })),
    )
  }
}

/** What was cut out of a reading is not drawn as a part of it. */
function withoutCutParts(
  { timeS }: Recording,
  correctedN: Float64Array,
  { adjustments }: Pick<LookAt, 'adjustments'>,
): Float64Array {
  const { cuts } = amendmentsOf(adjustments)
  if (cuts.length === 0) return correctedN
  const out = correctedN.slice()
  for (const { fromS, toS } of cuts)
    out.fill(Number.NaN, firstAtOrAfter(timeS, fromS), firstAfter(timeS, toS))
  return out
}

const keyOf = (source: SpecimenSource): string => JSON.stringify(source)

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null
  return () => {
    made ??= { value: make() }
    return made.value
  }
}

/** The value of a key, made where it is not there; the one that was asked for longest ago goes. */
function kept<V>(
  map: Map<string, V>,
  key: string,
  most: number,
  make: () => V,
  onGone: (key: string) => void = () => {},
): V {
  const value = map.has(key) ? (map.get(key) as V) : make()
  map.delete(key)
  map.set(key, value)
  const [oldest] = map.keys()
  if (map.size > most && oldest !== undefined) {
    map.delete(oldest)
    onGone(oldest)
  }
  return value
}
