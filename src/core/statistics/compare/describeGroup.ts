import { normalQuantile } from '../distributions/normal.ts'
import { tQuantile } from '../distributions/t.ts'
import type { ComparedGroup } from '../document.ts'
import { censoredMean } from '../group/censoredMean.ts'
import { type GroupSummary, type LowerBounds, summariseGroup } from '../group/summary.ts'
import { doubtBesideSpread, sharedStandardOfMean, Z95 } from './doubt.ts'
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
  const shared = sharedStandardOfMean(bounded ? counted : measured)
  const ci95WithDoubt = shared > 0 ? widened(summary.ci95, summary.mean, shared) : null
  const doubt = bounded ? null : doubtBesideSpread(measured)
  return {
    ...summary,
    outliers: summary.outliers.map(o => ({ ...o, specimen: counted[o.index]!.name })),
    missing: [...summary.missing],
    estimatedMean: bounded ? estimatedMean(counted, shared) : null,
    meanAtLeast: bounded ? valuesOf(counted).reduce((sum, v) => sum + v, 0) / counted.length : null,
    notRecorded: specimens.filter(s => s.dropped === null && !hasValue(s)).map(s => s.name),
    ...otherScaleOf(specimens),
    dropped: specimens.flatMap(s =>
      s.dropped === null ? [] : [{ specimen: s.name, value: s.value, why: s.dropped }],
    ),
    sharedStandard: shared > 0 ? shared : null,
    ci95: ci95WithDoubt ?? summary.ci95,
    ci95OfScatter: summary.ci95,
    ci95WithDoubt,
    lowerBounds: shared > 0 ? loweredBounds(summary, shared) : summary.lowerBounds,
    doubt: doubt && {
      ownStandard: doubt.ownStandard,
      shareOfVariance: Number.isFinite(doubt.share) ? doubt.share : null,
    },
  }
}

function otherScaleOf(specimens: readonly Specimen[]): Pick<ComparedGroup, 'otherScale'> {
  const names = specimens.filter(s => s.otherScale).map(s => s.name)
  return names.length > 0 ? { otherScale: names } : {}
}

const hasValue = (s: Specimen): boolean =>
  s.value !== null && (s.status === 'measured' || s.status === 'at-least')

/**
 * Interval of the mean with the doubt that all values share: the half-widths in quadrature (GUM, JCGM 100:2008, 5.1.2), so
 * that it is never shorter for a doubt more.
 */
function widened(
  ci95: readonly [number, number] | null,
  mean: number | null,
  shared: number,
): readonly [number, number] | null {
  if (ci95 === null || mean === null) return null
  const half = Math.hypot((ci95[1] - ci95[0]) / 2, Z95 * shared)
  return [mean - half, mean + half]
}

function estimatedMean(counted: readonly Specimen[], shared: number): ComparedGroup['estimatedMean'] {
  const found = censoredMean(
    valuesOf(counted),
    counted.map(s => s.status === 'at-least'),
  )
  if (found === null) return null
  const half = Math.hypot(tQuantile(0.975, found.df) * found.standardError, Z95 * shared)
  return { mean: found.mean, sd: found.sd, ci95: [found.mean - half, found.mean + half] }
}

/** One-sided 95 % normal quantile. */
const Z90 = 1.644_853_626_951_472

/**
 * The bound with the shared doubt: how far it keeps below the quantile that it stands for, and what the scale may be off
 * there, in quadrature. `quantile`: the estimate that the bound is drawn from.
 */
const lowered = (bound: number | null, quantile: number | null, shared: number): number | null =>
  bound === null || quantile === null ? bound : quantile - Math.hypot(quantile - bound, Z90 * shared)

function loweredBounds({ lowerBounds, mean, sd, weibull }: GroupSummary, shared: number): LowerBounds {
  const byNormal = lowerBounds.method === 'normal'
  const quantile = (share: 0.9 | 0.99): number | null => {
    if (byNormal) return mean === null || sd === null ? null : mean - normalQuantile(share) * sd
    return share === 0.9 ? (weibull?.p10 ?? null) : (weibull?.p01 ?? null)
  }
  return {
    ...lowerBounds,
    p90c95: lowered(lowerBounds.p90c95, quantile(0.9), shared),
    p99c95: lowered(lowerBounds.p99c95, quantile(0.99), shared),
  }
}
