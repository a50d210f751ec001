import { describe, expect, test } from 'vitest'
import { curveKinds, makePull, type PretendKind, pretendKinds } from '../../../src/capture/pretend/index.ts'

const some = [...pretendKinds, ...curveKinds].map(kind => ({ kind, seed: 3 }))

describe('every kind of pretend pull', () => {
  test.each(some)('$kind, seed $seed, is the same pull whenever it is made', ({ kind, seed }) => {
    const a = makePull({ kind, seed })
    const b = makePull({ kind, seed })
    expect(b.truth).toEqual(a.truth)
    expect(b.recording.forceN).toEqual(a.recording.forceN)
  })

  test.each(some)('$kind, seed $seed, is a recording as the contract has it', ({ kind, seed }) => {
    const { recording, truth } = makePull({ kind, seed })
    const { timeS, forceN, segments } = recording
    expect(forceN.length).toBe(timeS.length)
    expect(truth.samples).toBe(timeS.length)
    for (let i = 1; i < timeS.length; i++) expect(timeS[i]!).toBeGreaterThan(timeS[i - 1]!)
    expect(forceN.every(Number.isFinite)).toBe(true)
    expect(segments[0]!.from).toBe(0)
    expect(segments.at(-1)!.to).toBe(timeS.length)
  })

  test.each(some)('$kind, seed $seed, tells a truth that hangs together', ({ kind, seed }) => {
    const { truth } = makePull({ kind, seed })
    expect(Math.max(0, ...truth.pulls.map(p => p.peakN))).toBeCloseTo(truth.peakN, 9)
    const counted = truth.events.reduce((n, e) => n + (e.elements ?? 0), 0)
    expect(counted).toBeLessThanOrEqual(truth.elements)
    for (const e of truth.events) {
      expect(e.dropN).toBeCloseTo(e.beforeN - e.afterN, 9)
      expect(e.beforeN).toBeLessThanOrEqual(truth.peakN + 1e-9)
      expect(e.lastT).toBeGreaterThanOrEqual(e.t)
    }
    for (const r of truth.regrips) expect(r.to).toBeGreaterThan(r.restFrom)
  })
})

test('the indicated force after the break is the no-load reading that the truth names', () => {
  for (let seed = 1; seed <= 10; seed++) {
    const { recording, truth } = makePull({ kind: 'zeroed-under-load', seed })
    const last = [...recording.forceN.slice(-8)].reduce((a, b) => a + b, 0) / 8
    expect(truth.zeroAtStartN).toBeLessThan(-1)
    // Noise, display step and a fallen piece of paper together.
    expect(Math.abs(last - truth.zeroAtStartN)).toBeLessThan(0.15 + truth.quantumN)
  }
})

test('a single break drops the force by what the mechanics of a bundle on a soft rig demand', () => {
  // drop/force = m/(n + beta (n − m)), beta = specimen stiffness / rig stiffness (equal elements, fixed
  // grips).
  const elements = 10
  const { truth } = makePull({
    kind: 'fast',
    seed: 5,
    change: spec => ({
      ...spec,
      bench: {
        ...spec.bench,
        rigStiffnessNPerMm: 40,
        parts: [
          {
            law: 'bundle',
            elements,
            stiffnessNPerMm: 2,
            strengthN: 8,
            strengthScatter: 0.25,
            stiffnessScatter: 0,
            toeMm: 0,
            relaxation: [],
            holdOutS: 0.0005,
            slackMm: 0,
            counted: true,
          },
        ],
      },
    }),
  })
  let left = elements
  let checked = 0
  for (const e of truth.events) {
    if (!e.chain && e.elements === 1 && e.kind === 'partial-break') {
      const beta = (2 * left) / 40
      expect(e.dropN / e.beforeN).toBeCloseTo(1 / (left + beta * (left - 1)), 2)
      checked++
    }
    left -= e.elements ?? 0
  }
  expect(checked).toBeGreaterThan(1)
  expect(left).toBe(0)
})

test.each<{ kind: PretendKind; holds: (t: ReturnType<typeof makePull>['truth']) => boolean; why: string }>([
  {
    kind: 'strokes',
    why: 'unloads before it breaks',
    holds: t => t.pulls.length > 1 && t.pulls[0]!.ends === 'unload' && t.pulls.at(-1)!.ends === 'break',
  },
  {
    kind: 'inner-part',
    why: 'breaks twice',
    holds: t => t.pulls.length === 2 && t.pulls.every(p => p.ends === 'break'),
  },
  {
    kind: 'pull-out',
    why: 'softens without an event',
    holds: t => t.pulls[0]!.ends === 'softening' && t.events.length === 0,
  },
  { kind: 'clipped', why: 'reads the limit', holds: t => t.clipped > 2 },
  {
    kind: 'no-rest',
    why: 'never shows its zero',
    holds: t => !t.zeroSeen && t.pulls[0]!.ends === 'end-of-record',
  },
  {
    kind: 'cut-short',
    why: 'ends while loaded',
    holds: t => t.zeroSeen && t.pulls.at(-1)!.ends === 'end-of-record',
  },
  { kind: 'slips', why: 'slips', holds: t => t.events.some(e => e.kind === 'slip') },
  { kind: 'hands', why: 'is one pull whatever the hands do', holds: t => t.pulls.length === 1 },
])('$kind $why', ({ kind, holds }) => {
  for (let seed = 1; seed <= 12; seed++)
    expect(holds(makePull({ kind, seed }).truth), `seed ${seed}`).toBe(true)
})
