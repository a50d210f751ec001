import type { Act, BenchSpec } from '../bench.ts'
import type { DuctileSpec } from '../ductile.ts'
import type { FaultSpec } from '../faults.ts'
import { benchFor, converterAt, noFaults, pullOf, relaxes } from '../parts.ts'
import type { Random } from '../random.ts'
import type { PullSpec } from '../spec.ts'
import { begun, paceAt, type Setting, withOffset } from './start.ts'

/** As `Recipe`, in a setting that may be asked for. */
export type CurveRecipe = (random: Random, setting: Setting) => PullSpec

/** Breaks at once, or nearly, on the way up. */
export const brittleBar = (random: Random, peakN: number): DuctileSpec => ({
  law: 'ductile',
  stiffnessNPerMm: peakN / random.between(1, 4),
  yieldN: peakN,
  plateauMm: 0,
  yieldDip: 0,
  peakN,
  hardenMm: 0,
  neckMm: 0,
  neckShare: 1,
  tearS: 0,
  tearBend: 1,
  toeMm: random.between(0.05, 0.6),
  relaxation: relaxes(random, 0.03),
})

/** Yields, hardens, necks. */
export function ductileBar(random: Random, peakN: number): DuctileSpec {
  const yieldN = peakN * random.between(0.5, 0.92)
  const yieldMm = random.between(0.4, 1.5)
  return {
    ...brittleBar(random, peakN),
    stiffnessNPerMm: yieldN / yieldMm,
    yieldN,
    plateauMm: yieldMm * random.between(0, 3),
    yieldDip: random.pick([0, 0, random.between(0.01, 0.08)]),
    hardenMm: yieldMm * random.between(3, 12),
    neckMm: yieldMm * random.between(0.5, 6),
    neckShare: random.between(0.6, 0.97),
    relaxation: relaxes(random, 0.015),
  }
}

export const aPeakN = (random: Random): number => 30 * 100 ** random.next() // 30 N to 3 kN

interface Course {
  readonly part: BenchSpec['parts'][number]
  readonly aboutN: number
  readonly secondsToPeak?: number
  readonly softness?: number
  readonly by?: 'hand' | 'motor'
  readonly bench?: Partial<BenchSpec>
  readonly faults?: Partial<FaultSpec>
  readonly endTells?: boolean
  readonly logsTravel?: boolean
  readonly acts: (before: readonly Act[]) => readonly Act[]
}

/** One record in its setting: the pace follows the rate, the noise and the display step follow the force. */
export function recordOf(random: Random, setting: Setting, course: Course): PullSpec {
  const { part, aboutN } = course
  const pace = paceAt(setting.rateHz)
  const bench = benchFor(random, [part], {
    softness: course.softness ?? random.between(0.02, 0.4),
    secondsToPeak: pace * (course.secondsToPeak ?? random.between(4, 12)),
    by: course.by ?? random.pick(['hand', 'motor', 'motor'] as const),
  })
  const before = begun(
    random,
    setting,
    aboutN * random.between(0.04, 0.3),
    Math.max(0.8, pace * random.between(1, 6)),
  )
  const spec = pullOf(
    { ...withOffset(random, bench, setting, aboutN), ...course.bench },
    course.acts(before),
    converterAt(random, setting.rateHz, {
      noiseN: aboutN * 0.0002 * 10 ** random.next(),
      unit: 'N',
      quantum: random.pick([0, 0.0002, 0.0005, 0.001, 0.002]) * 10 ** Math.round(Math.log10(aboutN)),
    }),
    { ...noFaults, ...course.faults },
  )
  return { ...spec, endTells: course.endTells ?? false, logsTravel: course.logsTravel ?? random.chance(0.3) }
}

export const toTheEnd = (overrunS: number): Act => ({
  do: 'pull',
  until: { what: 'part-gone', part: 0 },
  overrunS,
})

/** Pulls to the break and rests after it. */
export const pulledThrough =
  (random: Random, pace: number) =>
  (before: readonly Act[]): Act[] => [
    ...before,
    toTheEnd(random.between(0.1, 0.5)),
    { do: 'wait', forS: Math.max(0.9, pace * random.between(1, 5)) },
    { do: 'end-log' },
  ]
