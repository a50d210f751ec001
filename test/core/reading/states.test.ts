import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { makePull, pretendKinds } from '../../../src/capture/pretend/index.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { selvedge } from '../../../src/core/reading/selvedge.ts'
import { type Load, statesUnderLoad } from '../../../src/core/reading/states.ts'

/** A force of straight parts from nought: `[seconds, force at its end]`. */
function forceOf(parts: readonly (readonly [number, number])[], rateHz = 50) {
  const forceN: number[] = [0]
  for (const [forS, toN] of parts) {
    const fromN = forceN.at(-1)!
    const steps = Math.round(forS * rateHz)
    for (let i = 1; i <= steps; i++) forceN.push(fromN + ((toN - fromN) * i) / steps)
  }
  return {
    forceN: new Float64Array(forceN),
    timeS: Float64Array.from({ length: forceN.length }, (_, i) => i / rateHz),
  }
}

function statesOf(parts: readonly (readonly [number, number])[], so: Partial<Load> = {}, rateHz = 50) {
  const points = forceOf(parts, rateHz)
  const top = points.forceN.indexOf(Math.max(...points.forceN))
  return statesUnderLoad(points, {
    ...{ fromS: 0, toS: points.timeS.at(-1)!, topN: points.forceN[top]!, topS: points.timeS[top]! },
    ...{ letDownS: null, lossesS: [], ...so },
  })
}
const kinds = (stretches: readonly { kind: string }[]): string => stretches.map(s => s.kind).join(' ')

describe('what goes on under load', () => {
  test('is a hold where the force goes on at less than a tenth of its pace', () => {
    const held = statesOf([
      [4, 40],
      [3, 40.4],
      [4, 80],
    ])
    expect(kinds(held)).toBe('loading hold loading')
    expect(held[1]!.fromS).toBeCloseTo(4, 0)
    expect(held[1]!.toS).toBeCloseTo(7, 0)
    expect(
      kinds(
        statesOf([
          [4, 40],
          [3, 46],
          [4, 80],
        ]),
      ),
    ).toBe('loading')
    // A specimen that relaxes is held all the same.
    expect(
      kinds(
        statesOf([
          [4, 40],
          [3, 38.5],
          [4, 80],
        ]),
      ),
    ).toBe('loading hold loading')
  })
  test('is no hold for one step, nor where load was lost', () => {
    expect(
      kinds(
        statesOf([
          [4, 40],
          [0.4, 40],
          [4, 80],
        ]),
      ),
    ).toBe('loading')
    const afterLoss = [
      [4.4, 44],
      [0.02, 36],
      [1.58, 36],
      [4, 80],
    ] as const
    expect(kinds(statesOf(afterLoss))).toBe('loading hold loading')
    expect(kinds(statesOf(afterLoss, { lossesS: [4.81] }))).toBe('loading')
  })
  test('is an unload from where it was let down, as far as it falls, and loading again after it', () => {
    const fall = [
      [4, 40],
      [3, 10],
      [4, 50],
    ] as const
    expect(kinds(statesOf(fall))).toBe('loading')
    const letDown = statesOf(fall, { letDownS: 4 })
    expect(kinds(letDown)).toBe('loading unload loading')
    expect(letDown[1]).toMatchObject({ fromS: 4 })
    expect(letDown[1]!.toS).toBeCloseTo(7, 0)
    // A hand that waits at the top holds, and only then unloads.
    expect(
      kinds(
        statesOf(
          [
            [4, 40],
            [2, 40],
            [3, 0],
          ],
          { letDownS: 4 },
        ),
      ),
    ).toBe('loading hold unload')
  })
  test('is told the same at two samples a second as at a thousand', () => {
    const parts = [
      [20, 40],
      [15, 40],
      [20, 80],
    ] as const
    for (const rateHz of [2, 10, 1000])
      expect(kinds(statesOf(parts, {}, rateHz)), `${rateHz}`).toBe('loading hold loading')
  })
  test('of a moment is loading', () => {
    expect(
      statesUnderLoad(forceOf([[1, 5]]), {
        ...{ fromS: 3, toS: 3.5, topN: 5, topS: 3, letDownS: null, lossesS: [] },
      }),
    ).toEqual([{ kind: 'loading', fromS: 3, toS: 3.5 }])
  })
})

test('the selvedge of any record goes from its first reading to its last, without holes and overlap', () => {
  fc.assert(
    fc.property(fc.constantFrom(...pretendKinds), fc.integer({ min: 1, max: 10_000 }), (kind, seed) => {
      const { recording } = makePull({ kind, seed, setting: { rateHz: 40 } })
      const reading = readRecording(recording)
      const stretches = selvedge(recording, reading)
      expect(stretches[0]!.fromS).toBe(reading.recording.startS)
      expect(stretches.at(-1)!.toS).toBe(reading.recording.endS)
      stretches.slice(1).forEach((stretch, i) => {
        expect(stretch.fromS).toBeCloseTo(stretches[i]!.toS, 9)
        expect(stretch.kind).not.toBe(stretches[i]!.kind)
        expect(stretch.toS).toBeGreaterThan(stretch.fromS)
      })
    }),
    { seed: 17, numRuns: 40 },
  )
})
