import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import { studySpecimens, withNextStep } from '../../core/statistics/compare/compareStudy.ts'
import type { Looks } from '../../core/statistics/compare/looks.ts'
import type { Per } from '../../core/statistics/compare/perDimension.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { unitToTell } from '../../publish/study/forceUnit.ts'
import type { Store } from '../../store/index.ts'
import { type CompareFlags, type Found, type FoundCurve, shownAs } from './sources.ts'

/** The specimens of a study of the store, and what the study itself says of comparing them. */
export interface FoundInStudy extends Found {
  /** What its forces are divided by. */
  readonly per: Per | null
  readonly control: string | null
  /** The looks that it remembers. */
  readonly looks: Looks | null
  /** Its next step comes before that of the figures alone. */
  withNext(comparison: Comparison): Comparison
}

/** The newest reading of each specimen of a study of the store. Problems: no such study, none that can be compared. */
export async function fromStudy(
  store: Store,
  name: string,
  { quantity = 'peakForce', block, show }: CompareFlags,
  { keepRecordings }: { readonly keepRecordings: boolean },
): Promise<Outcome<FoundInStudy>> {
  const { studyOf } = await import('../../server/publishedStudy.ts')
  const found = await studyOf(store, name)
  if (!found.ok) return found
  const { comparedStudy } = await import('../../server/compareStudy.ts')
  const study = await comparedStudy(store, found.value)
  const { specimens, unit, per, control, looks, warnings } = studySpecimens(study, {
    quantity,
    ...(block === undefined ? {} : { blocksBy: block as 'day' | 'batch' | 'operator' }),
  })
  const unread = study.unread ?? []
  if (specimens.length === 0 && unread.length > 0) return wrong(...unread.map(({ problem }) => problem))
  if (specimens.length === 0)
    return wrong({
      where: `study “${found.value.name}”`,
      what: study.readings.some(({ specimenId }) => study.specimens.some(({ id }) => id === specimenId))
        ? 'no specimen that was read is assigned to a variant yet.'
        : 'no specimen has been pulled and read yet.',
      cure: 'See tenterhook specimen list.',
    })
  const specimenNamed = (called: string) => study.specimens.find(one => one.name === called)
  const curves = keepRecordings ? await curvesOf(store, study, specimens) : fine([])
  if (!curves.ok) return curves
  const own = unitToTell(study.readings.map(({ reading }) => ({ recording: null, reading })))
  return fine({
    specimens,
    dimensionsOf: one => specimenNamed(one.name) ?? null,
    quantity,
    unit,
    shown: shownAs(show ?? own, unit),
    warnings,
    understood: `${specimens.length} specimens of “${found.value.name}”`,
    curves: curves.value,
    per,
    control,
    looks,
    withNext: comparison => withNextStep(comparison, study),
  })
}

/** The curves of the specimens that were recorded and count. */
async function curvesOf(
  store: Store,
  study: Awaited<ReturnType<typeof import('../../server/compareStudy.ts').comparedStudy>>,
  compared: Found['specimens'],
): Promise<Outcome<FoundCurve[]>> {
  const { recordingOf } = await import('../../server/specimenReading.ts')
  const curves: FoundCurve[] = []
  for (const { name, group, dropped } of compared) {
    if (dropped !== null) continue
    const specimen = study.specimens.find(one => one.name === name)
    const reading = study.readings.find(one => one.specimenId === specimen?.id)?.reading
    if (!specimen || !reading) continue
    const { items } = await store.recordings.list({ specimenId: specimen.id, limit: 1000 })
    if (items.length === 0) continue
    const inPlaces = [...items].sort((a, b) => a.place - b.place)
    const joined = await recordingOf(store, inPlaces, specimen.pulledOn ?? null)
    if (!joined.ok) return joined
    const recording: Recording = joined.value.recording
    curves.push({ recording, reading, group, name })
  }
  return fine(curves)
}
