import { tQuantile } from '../distributions/t.ts'
import type { ComparedGroup } from '../document.ts'
import { summariseGroup } from '../group/summary.ts'
import { doubtBesideSpread, sharedStandardOfMean } from './doubt.ts'
import { atLeastOf, measuredOf, type Specimen, valuesOf } from './specimen.ts'

/** One group's record: what its values say by themselves, and what they leave out or share. */
export function describeGroup(name: string, specimens: readonly Specimen[], seed: number): ComparedGroup {
  const counted = specimens.filter(s => s.dropped === null && s.value !== null && hasValue(s))
  const summary = summariseGroup(name, valuesOf(counted), {
    censored: counted.map(s => s.status === 'at-least'),
    seed,
  })
  const measured = measuredOf(specimens)
  const bounded = atLeastOf(specimens).length > 0
  const shared = sharedStandardOfMean(measured)
  const doubt = bounded ? null : doubtBesideSpread(measured)
  return {
    ...summary,
    outliers: summary.outliers.map(o => ({ ...o, specimen: counted[o.index]!.name })),
    missing: [...summary.missing],
    meanAtLeast: bounded ? valuesOf(counted).reduce((sum, v) => sum + v, 0) / counted.length : null,
    notRecorded: specimens.filter(s => s.dropped === null && !hasValue(s)).map(s => s.name),
    dropped: specimens.flatMap(s =>
      s.dropped === null ? [] : [{ specimen: s.name, value: s.value, why: s.dropped }],
    ),
    sharedStandard: shared > 0 ? shared : null,
    ci95WithDoubt: shared > 0 ? widened(summary.ci95, summary.mean, shared, measured.length) : null,
    doubt: doubt && {
      ownStandard: doubt.ownStandard,
      shareOfVariance: Number.isFinite(doubt.share) ? doubt.share : null,
    },
  }
}

const hasValue = (s: Specimen): boolean =>
  s.value !== null && (s.status === 'measured' || s.status === 'at-least')

/** Interval of the mean with the shared doubt in its standard error (GUM, JCGM 100:2008, 5.1.2). */
function widened(
  ci95: readonly [number, number] | null,
  mean: number | null,
  shared: number,
  n: number,
): readonly [number, number] | null {
  if (ci95 === null || mean === null) return null
  const half = Math.hypot((ci95[1] - ci95[0]) / 2, tQuantile(0.975, n - 1) * shared)
  return [mean - half, mean + half]
}
