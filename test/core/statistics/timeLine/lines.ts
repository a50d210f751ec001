import type { Check } from '../../../../src/core/calibration/checkDocument.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'
import type { TimeLineGiven } from '../../../../src/core/statistics/timeLine/timeLine.ts'

/** What happens half way down the line. */
interface Happens {
  readonly specimensPct?: number
  readonly rigPct?: number
  readonly readingPct?: number
  readonly days?: number
  readonly checkScatterPct?: number
}

const dayOf = (i: number): string => new Date(Date.UTC(2026, 2, 1 + i)).toISOString().slice(0, 10)

/** Two of paste a day, 50 N that scatter by 3 %, and a check each morning that scatters by 0.3 %. */
export function lineGiven(
  seed: number,
  { specimensPct = 0, rigPct = 0, readingPct = 0, days = 20, checkScatterPct = 0.3 }: Happens,
): TimeLineGiven {
  const r = seededRandom(seed)
  const changedFrom = Math.ceil(days / 2)
  const factor = (i: number, pct: number): number => (i >= changedFrom ? 1 + pct / 100 : 1)
  const all = Array.from({ length: days }, (_, i) => i)
  return {
    control: 'paste',
    unit: 'N',
    pulls: all.flatMap(i =>
      [1, 2].map(k => ({
        name: `paste ${2 * i + k}`,
        day: dayOf(i),
        value:
          50 * (1 + 0.03 * r.normal()) * factor(i, specimensPct) * factor(i, rigPct) * factor(i, readingPct),
        engine: readingPct !== 0 && i < changedFrom ? '0.1.0' : '0.2.0',
      })),
    ),
    checks: all.map((i): Check => {
      const errorPct = checkScatterPct * r.normal() + 100 * (factor(i, rigPct) - 1)
      return {
        document: 'tenterhook.check',
        version: 1,
        at: `${dayOf(i)}T08:00:00Z`,
        appliedN: 9.81,
        appliedStandardN: 0.0001,
        indicatedN: 9.81 * (1 + errorPct / 100),
        indicatedStandardN: 0.001,
        zeroN: null,
        calibration: '2026-02-01',
        verdict: 'within',
        findings: [],
      }
    }),
    readTwice:
      readingPct === 0
        ? []
        : [1, 2, 3, 4, 5].map(() => ({
            from: '0.1.0',
            to: '0.2.0',
            at: `${dayOf(changedFrom)}T09:00:00Z`,
            pct: readingPct + 0.2 * r.normal(),
          })),
  }
}
