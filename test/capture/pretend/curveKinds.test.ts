import { describe, expect, test } from 'vitest'
import {
  curveKinds,
  makePull,
  type PretendKind,
  RATES_HZ,
  type Truth,
  ZEROINGS,
} from '../../../src/capture/pretend/index.ts'

/** Records that are easily misread, in all their settings: what makes each the kind that it is. */

const settings = RATES_HZ.flatMap(rateHz => ZEROINGS.map(zeroing => ({ rateHz, zeroing })))
/** Every rate and every zeroing, but not each with each. */
const some = settings.filter((_, i) => i % 4 === 0)
const slower = settings.filter((s, i) => s.rateHz < 1000 && i % 2 === 0)

interface Made {
  readonly truth: Truth
  readonly forceN: Float64Array
  readonly timeS: Float64Array
  readonly zeroing: string
}

const all = (kind: PretendKind): Made[] =>
  slower.map((setting, i) => {
    const { truth, recording } = makePull({ kind, seed: 40 + i, setting })
    return { truth, forceN: recording.forceN, timeS: recording.timeS, zeroing: setting.zeroing }
  })

const lastN = ({ forceN }: Made): number => forceN.at(-1)!
const near = ({ truth }: Made, aN: number, bN: number): boolean =>
  Math.abs(aN - bN) < 0.03 * truth.peakN + 6 * truth.noiseN + truth.quantumN

test.each(curveKinds)('%s comes at any rate and with any zeroing', kind => {
  for (const setting of some) {
    const { truth, recording } = makePull({ kind, seed: 7, setting })
    expect(Math.abs(truth.rateHz / setting.rateHz - 1)).toBeLessThan(0.031)
    expect(recording.timeS.length).toBeGreaterThan(10)
    expect(truth.status.length).toBeGreaterThan(0)
  }
})

describe('what makes each kind', () => {
  const holds: Partial<Record<PretendKind, { what: string; of: (made: Made) => boolean }>> = {
    'yield-plateau': {
      what: 'stays level under load, yields, and breaks',
      of: ({ truth }) => truth.pulls.length === 1 && truth.pulls[0]!.ends === 'break' && truth.peakKnown,
    },
    'relaxing-hold': {
      what: 'holds for seconds under load in one pull',
      of: ({ truth }) =>
        truth.pulls.length === 1 && truth.pulls[0]!.end - truth.pulls[0]!.start > 6 && truth.peakKnown,
    },
    'held-to-the-end': {
      what: 'ends under load, unbroken',
      of: ({ truth }) => truth.status[0] === 'not-reached' && truth.status.length === 1,
    },
    untared: {
      what: 'shows its empty cell, off nought',
      of: ({ truth }) => truth.zero === 'seen' && Math.abs(truth.zeroAtStartN) > 0.035 * truth.peakN,
    },
    teeth: { what: 'has no part broken', of: ({ truth }) => truth.events.length === 1 },
    'stick-slip': { what: 'has no part broken', of: ({ truth }) => truth.events.length === 1 },
    vibrating: { what: 'has no part broken', of: ({ truth }) => truth.events.length === 1 },
    'stopped-in-the-fall': {
      what: 'ends in the fall: broken, and load still on it',
      of: m =>
        m.truth.pulls.at(-1)!.ends === 'end-of-record' &&
        m.truth.status[0] === 'measured' &&
        lastN(m) - m.truth.zeroAtStartN < 0.8 * m.truth.peakN &&
        !near(m, lastN(m), m.truth.zeroAtStartN),
    },
    'few-after-break': {
      what: 'ends a few readings after the break, at nothing',
      of: m => {
        const endS = m.timeS.at(-1)!
        const broke = m.truth.events.at(-1)!
        const after = (endS - broke.lastT) * m.truth.rateHz
        return broke.kind === 'break' && after >= 2 && after < 9 && near(m, lastN(m), m.truth.zeroAtStartN)
      },
    },
    'gap-at-top': {
      what: 'has its greatest force in a gap',
      of: ({ truth }) =>
        truth.status[0] === 'at-least' && truth.peakShownN <= truth.peakN && !truth.peakKnown,
    },
    'in-a-row': {
      what: 'breaks more than once, each time to nothing',
      of: ({ truth }) => truth.pulls.length > 1 && truth.pulls.every(p => p.ends === 'break'),
    },
    'no-pull': {
      what: 'has no pull',
      of: ({ truth }) => truth.pulls.length === 0 && truth.status[0] === 'no-pull' && truth.zero === null,
    },
    'begun-loaded': {
      what: 'never shows the empty cell, and is rightly zeroed',
      of: ({ truth }) => truth.zero === 'as-indicated' && truth.peakKnown && !truth.zeroSeen,
    },
    'slow-tear': {
      what: 'tears over a while',
      of: ({ truth }) => truth.events.some(e => e.kind === 'break' && e.lastT - e.t > 0.2),
    },
    loadings: {
      what: 'is let down every time, unbroken',
      of: ({ truth }) => truth.pulls.every(p => p.ends === 'unload') && truth.status[0] === 'not-reached',
    },
    'moved-zero': {
      what: 'rests at another level after the break',
      of: m => Math.abs(lastN(m) - m.truth.zeroAtStartN) > 0.003 * m.truth.peakN - 5 * m.truth.noiseN,
    },
    'absurd-reading': {
      what: 'has a reading far beyond the peak',
      of: ({ truth, forceN }) => truth.spikes.length > 0 && forceN.some(f => Math.abs(f) > 10 * truth.peakN),
    },
  }
  test.each(curveKinds)('%s', kind => {
    const { of, what } = holds[kind]!
    for (const made of all(kind)) expect(of(made), `${what}: seed ${made.truth.seed}`).toBe(true)
  })
})

test('a record zeroed under load says so where the empty cell is seen after the break', () => {
  for (const made of all('yield-plateau').filter(m => m.zeroing === 'under-load')) {
    expect(made.truth.zero).toBe('set-under-load')
    expect(made.truth.zeroAtStartN).toBeLessThan(0)
    expect(near(made, lastN(made), made.truth.zeroAtStartN)).toBe(true)
  }
})

test('a texture swings the force by what was asked, and leaves the rest of the pull as it is', () => {
  const change = (share: number) =>
    makePull({
      kind: 'teeth',
      seed: 3,
      setting: { rateHz: 80, zeroing: 'tared' },
      change: spec => ({
        ...spec,
        bench: {
          ...spec.bench,
          texture: { what: 'teeth', everyMm: 0.2, share, sharp: 0.3, uneven: 0 },
        },
      }),
    }).truth
  const plain = change(0)
  const toothed = change(0.2)
  expect(toothed.events[0]!.t).toBe(plain.events[0]!.t)
  expect(toothed.peakN).toBeLessThanOrEqual(plain.peakN + 1e-9)
  expect(toothed.peakN).toBeGreaterThan(0.97 * plain.peakN)
})
