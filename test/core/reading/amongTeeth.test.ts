import { describe, expect, test } from 'vitest'
import { findDrops } from '../../../src/core/reading/drops.ts'
import type { Drop } from '../../../src/core/reading/measureDrop.ts'
import { withoutStickSlip } from '../../../src/core/reading/stickSlip.ts'

/** Falls by `byN` in so many readings, each after an even rise of 60 readings; a hundred readings a second. */
function drops(falls: readonly { readonly byN: number; readonly readings: number }[]): readonly Drop[] {
  const force: number[] = Array.from({ length: 40 }, () => 0)
  for (let i = 1; i <= 100; i++) force.push(i * 0.5)
  for (const { byN, readings } of falls) {
    const top = force.at(-1)!
    for (let i = 1; i <= readings; i++) force.push(top - (byN * i) / readings)
    for (let i = 1; i <= 60; i++) force.push(top - byN + i * 0.1)
  }
  const loadN = Float64Array.from(force)
  const timeS = loadN.map((_, i) => i * 0.01)
  return findDrops(
    timeS,
    loadN,
    [{ from: 40, to: loadN.length, open: false }],
    [{ from: 0, to: loadN.length }],
    {
      ...{ noiseN: 0.02, quantumN: 0.01, periodS: 0.01, jitterS: 0 },
      ...{ greatestN: Math.max(...loadN), thresholdN: 0.5, sensitivity: 1 },
    },
  ).drops
}

const tooth = (byN = 4) => ({ byN, readings: 12 })
const sharp = (byN = 4) => ({ byN, readings: 1 })
const marks = (of: readonly Drop[]): boolean[] => of.map(d => d.amongTeeth)

describe('a quick fall among gradual ones of its size', () => {
  test('is one of the teeth where there are at least as many of them, and two', () => {
    expect(marks(drops([tooth(), sharp(), tooth(), sharp()]))).toEqual([true, true])
    expect(marks(drops([tooth(), sharp()]))).toEqual([false])
    expect(marks(drops([tooth(), sharp(), tooth(), sharp(), sharp()]))).toEqual([false, false, false])
  })

  test('is a drop where it is more than three times as large or as small', () => {
    expect(marks(drops([tooth(), sharp(11.9), tooth()]))).toEqual([true])
    expect(marks(drops([tooth(), sharp(12.1), tooth()]))).toEqual([false])
    expect(marks(drops([tooth(), sharp(1.32), tooth()]))).toEqual([false])
  })

  test('goes with them, but for what leaves nothing, ends the record or takes over a quarter', () => {
    const [first] = drops([tooth(), sharp(), tooth()])
    expect(withoutStickSlip([first!], null)).toEqual([])
    for (const other of [{ leavesNothing: true }, { stops: true }, { share: 0.26 }, { amongTeeth: false }]) {
      expect(withoutStickSlip([{ ...first!, ...other }], null)).toHaveLength(1)
    }
    expect(withoutStickSlip([{ ...first!, share: 0.24 }], null)).toEqual([])
  })
})
