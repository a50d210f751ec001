import type { Reading } from '../../reading/document.ts'
import type { TimeLine } from './document.ts'

/** One reading of a specimen as it was kept. */
export interface KeptReading {
  /** ISO 8601. */
  readonly madeAt: string
  readonly engine: string
  readonly recordingIds: readonly string[]
  readonly adjustments: readonly unknown[]
  /** Peak force; `null` where there is none. */
  readonly peakN: number | null
}

/** A reading that is kept, as far as it bears on what a newer engine made of the same recordings. */
export const keptReading = ({
  madeAt,
  engine,
  recordingIds,
  adjustments,
  reading,
}: Omit<KeptReading, 'peakN'> & { readonly reading: Reading }): KeptReading => ({
  madeAt,
  engine,
  recordingIds,
  adjustments,
  peakN: reading.results.peakForce.valueN,
})

/** The same recording, adjusted alike, as two versions of the engine read it. */
export interface ReadTwice {
  readonly from: string
  readonly to: string
  readonly at: string
  readonly pct: number
}

/** A figure that moved by no more than this, in per cent, is the same but for rounding. */
const SAME_PCT = 0.1

/** From the readings of one specimen in the order in which they were made, those that the engine alone changed. */
export function readTwice(readings: readonly KeptReading[]): ReadTwice[] {
  const inOrder = [...readings].sort((a, b) => (a.madeAt < b.madeAt ? -1 : 1))
  return inOrder.flatMap((after, i) => {
    const before = inOrder[i - 1]
    if (before === undefined || before.engine === after.engine) return []
    if (before.peakN === null || after.peakN === null || !(before.peakN > 0)) return []
    const alike =
      after.recordingIds.length > 0 &&
      JSON.stringify([before.recordingIds, before.adjustments]) ===
        JSON.stringify([after.recordingIds, after.adjustments])
    return alike
      ? [
          {
            from: before.engine,
            to: after.engine,
            at: after.madeAt,
            pct: 100 * (after.peakN / before.peakN - 1),
          },
        ]
      : []
  })
}

/** One line for each change of the engine, in the order of time. */
export function engineSteps(pairs: readonly ReadTwice[]): TimeLine['readAgain'] {
  const steps = new Map<string, ReadTwice[]>()
  for (const pair of [...pairs].sort((a, b) => (a.at < b.at ? -1 : 1))) {
    const key = JSON.stringify([pair.from, pair.to])
    steps.set(key, [...(steps.get(key) ?? []), pair])
  }
  return [...steps.values()].map(own => {
    const { from, to, at } = own[0]!
    const furthest = own.reduce((most, { pct }) => (Math.abs(pct) > Math.abs(most) ? pct : most), 0)
    return {
      from,
      to,
      at,
      n: own.length,
      moved: own.filter(({ pct }) => Math.abs(pct) > SAME_PCT).length,
      meanPct: own.reduce((sum, { pct }) => sum + pct, 0) / own.length,
      greatestPct: furthest,
    }
  })
}
