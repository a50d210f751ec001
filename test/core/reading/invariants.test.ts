import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  curveKinds,
  makePull,
  type PretendKind,
  pretendKinds,
  RATES_HZ,
  ZEROINGS,
} from '../../../src/capture/pretend/index.ts'
import type { Reading } from '../../../src/core/reading/document.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { Recording } from '../../../src/core/recording.ts'
import { readLog } from '../../../src/logs/index.ts'

/** What must hold of any record, whatever it shows. */

const SLOW = RATES_HZ.filter(rateHz => rateHz < 1000)

const drawn = (kinds: readonly PretendKind[], zeroings: readonly (typeof ZEROINGS)[number][] = ZEROINGS) =>
  fc.record({
    kind: fc.constantFrom(...kinds),
    seed: fc.integer({ min: 1, max: 10_000 }),
    rateHz: fc.constantFrom(...SLOW),
    zeroing: fc.constantFrom(...zeroings),
  })

type Drawn = ReturnType<typeof drawn> extends fc.Arbitrary<infer D> ? D : never

const made = ({ kind, seed, rateHz, zeroing }: Drawn) =>
  makePull({ kind, seed, setting: { rateHz, zeroing } })

const holds = (
  pulls: ReturnType<typeof drawn>,
  numRuns: number,
  of: (pull: ReturnType<typeof makePull>) => void,
): void =>
  fc.assert(
    fc.property(pulls, pull => of(made(pull))),
    { seed: 17, numRuns, endOnFailure: true },
  )

/** Two readings of one peak are alike that lie well within its doubt. */
const alikeN = ({ results: { peakForce } }: Reading): number =>
  Math.max(0.5 * (peakForce.uncertaintyN ?? 0), 0.002 * (peakForce.valueN ?? 0))

const withForce = (recording: Recording, forceN: Float64Array): Recording => ({ ...recording, forceN })

/** Words and counts: what has no unit. */
const words = (reading: Reading) => ({
  status: reading.results.peakForce.status,
  pulls: reading.pulls.map(p => p.ends),
  events: reading.events.map(e => [e.kind, Number(e.atS.toFixed(3))]),
  warnings: reading.warnings.map(w => w.code),
})

/** Figures in newton. */
const forces = (reading: Reading): (number | null)[] => {
  const { valueN, uncertaintyN, lowN, highN } = reading.results.peakForce
  return [
    ...[valueN, uncertaintyN, lowN, highN],
    ...reading.pulls.map(p => p.peakN),
    ...reading.events.flatMap(e => [e.beforeN, e.afterN, e.dropN]),
  ]
}

function expectClose(
  got: readonly (number | null)[],
  want: readonly (number | null)[],
  within: number,
): void {
  expect(got.length).toBe(want.length)
  for (const [i, value] of got.entries()) {
    const other = want[i]!
    if (value === null || other === null) expect(value).toBe(other)
    else expect(Math.abs(value - other)).toBeLessThanOrEqual(within)
  }
}

/** Kinds whose empty cell is seen at length, before or after. */
const SEEN = ['saw-tooth', 'brittle', 'pull-out', 'yield-plateau', 'slow-tear', 'loadings'] as const

describe('a reading', () => {
  test('of a record whose rest is seen does not change with a constant on it, but for its zero', () => {
    fc.assert(
      fc.property(drawn(SEEN, ['tared']), fc.double({ min: -3, max: 3, noNaN: true }), (pull, times) => {
        const { recording, truth } = made(pull)
        // Whole display steps: a reading off its own lattice is another display.
        const step = truth.quantumN > 0 ? truth.quantumN : truth.peakN / 1000
        const byN = Math.round((times * truth.peakN) / step) * step
        const plain = readRecording(recording)
        const moved = readRecording(
          withForce(
            recording,
            recording.forceN.map(f => f + byN),
          ),
        )
        const told = (reading: Reading) => {
          const { events, ...rest } = words(reading)
          return { ...rest, kinds: events.map(([kind]) => kind) }
        }
        expect(told(moved)).toEqual(told(plain))
        expectClose([moved.results.peakForce.valueN], [plain.results.peakForce.valueN], alikeN(plain))
        const each = ({ pulls, events }: Reading) => [
          ...pulls.map(p => p.peakN),
          ...events.filter(e => e.kind !== 'rezero').map(e => e.dropN),
        ]
        expectClose(each(moved), each(plain), alikeN(plain))
      }),
      { seed: 17, numRuns: 25, endOnFailure: true },
    )
  })

  test('scales with the force', () => {
    fc.assert(
      fc.property(
        drawn([...pretendKinds, ...curveKinds]),
        fc.constantFrom(2 ** -10, 0.037, 4, 250),
        (pull, times) => {
          const { recording, truth } = made(pull)
          const plain = readRecording(recording)
          const scaled = readRecording(
            withForce(
              recording,
              recording.forceN.map(f => times * f),
            ),
          )
          expect(words(scaled)).toEqual(words(plain))
          const back = forces(scaled).map(f => (f === null ? null : f / times))
          expectClose(back, forces(plain), 1e-4 * Math.max(truth.peakN, truth.noiseN))
        },
      ),
      { seed: 17, numRuns: 25, endOnFailure: true },
    )
  })

  test('does not change where a log counts tension negative and that is told', () => {
    const text = ({ timeS, forceN }: Recording, sign: 1 | -1): Uint8Array =>
      new TextEncoder().encode(
        `time_s,force_N\n${Array.from(timeS, (t, i) => `${t.toFixed(5)},${(sign * forceN[i]!).toFixed(6)}`).join('\n')}\n`,
      )
    holds(drawn(curveKinds), 10, ({ recording }) => {
      const one = readLog(text(recording, 1), 'a.csv', { tension: 'positive' })
      const other = readLog(text(recording, -1), 'a.csv', { tension: 'negative' })
      if (!one.ok || !other.ok) throw new Error('the log was not read')
      const [mine, turned] = [readRecording(one.value), readRecording(other.value)]
      expect(words(turned)).toEqual(words(mine))
      expect(forces(turned)).toEqual(forces(mine))
      expect(turned.budget).toEqual(mine.budget)
    })
  })

  test('states no more than was read: greatest reading, less the zero, and the growth just before it', () => {
    holds(drawn([...pretendKinds, ...curveKinds, 'begun-loaded', 'no-rest']), 60, ({ recording }) => {
      const reading = readRecording(recording)
      const { valueN, atS, indicatedN } = reading.results.peakForce
      if (valueN === null || atS === null || indicatedN === null) return
      const { forceN, timeS } = recording
      const zeroN = -(reading.budget.find(line => line.source === 'zero')?.correctionN ?? 0)
      const spikes = new Set(reading.recording.spikes.map(s => s.atS))
      let top = -1
      for (let i = 0; i < forceN.length; i++)
        if (!spikes.has(timeS[i]!) && (top < 0 || forceN[i]! > forceN[top]!)) top = i
      // The force at a break shows in the readings before it; three steps are as long as any averaging here.
      const growthN = forceN[top]! - Math.min(...forceN.subarray(Math.max(0, top - 3), top + 1))
      const slackN = 3 * reading.recording.noiseN + reading.recording.quantumN
      // Nor is the zero below everything that was read: that would be a margin, and no level that the record shows.
      const lowestN = Math.min(0, ...forceN.filter((_, i) => !spikes.has(timeS[i]!)))
      expect(zeroN).toBeGreaterThanOrEqual(lowestN - slackN)
      expect(valueN).toBeLessThanOrEqual(forceN[top]! - zeroN + growthN + slackN)
    })
  })

  test('dates no event inside unrecorded time', () => {
    holds(drawn(['gap-at-top', 'faults', 'mixed']), 40, ({ recording }) => {
      const reading = readRecording(recording)
      const eps = 1e-6
      for (const { atS } of reading.events)
        for (const gap of reading.recording.gaps)
          expect(atS > gap.fromS + eps && atS < gap.toS - eps, `${atS} in ${gap.fromS}–${gap.toS}`).toBe(
            false,
          )
    })
  })

  test('does not change with one wild reading, but for what that one would have told', () => {
    fc.assert(
      fc.property(
        drawn(SEEN, ['tared']),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        fc.constantFrom(-1000, -20, 5, 60, 1000),
        (pull, where, times) => {
          const { recording, truth } = made(pull)
          const plain = readRecording(recording)
          const at = Math.floor(where * recording.forceN.length)
          const clear = 5 / truth.rateHz + 0.3
          const told = [
            truth.peakS,
            ...truth.events.flatMap(e => [e.t, e.lastT]),
            ...truth.pulls.flatMap(p => [p.start, p.end, p.peakS]),
          ]
          if (told.some(t => Math.abs(t - recording.timeS[at]!) < clear)) return
          const spiked = readRecording(withForce(recording, recording.forceN.with(at, times * truth.peakN)))
          expect(spiked.recording.spikes.map(s => s.atS)).toContain(recording.timeS[at])
          expect(spiked.results.peakForce.status).toBe(plain.results.peakForce.status)
          expect(spiked.pulls.map(p => p.ends)).toEqual(plain.pulls.map(p => p.ends))
          expect(spiked.events.map(e => e.kind)).toEqual(plain.events.map(e => e.kind))
          expectClose([spiked.results.peakForce.valueN], [plain.results.peakForce.valueN], alikeN(plain))
        },
      ),
      { seed: 17, numRuns: 40, endOnFailure: true },
    )
  })
})
