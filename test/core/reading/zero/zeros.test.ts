import { describe, expect, test } from 'vitest'
import { quietStretches } from '../../../../src/core/reading/quiet.ts'
import { findRezeros } from '../../../../src/core/reading/rezero.ts'
import { zeroLevelAt } from '../../../../src/core/reading/zero/zeroLine.ts'
import { findZeros } from '../../../../src/core/reading/zero/zeros.ts'
import type { Segment } from '../../../../src/core/recording.ts'

/** What is a rest and what only looks like one. `5*20` is twenty samples of 5, `0>40*9` nine that rise evenly from 0. */
const PERIOD_S = 0.05
const signal = { periodS: PERIOD_S, noiseN: 0.05, quantumN: 0.1 }

function series(sketch: string): Float64Array {
  return Float64Array.from(
    sketch.split(' ').flatMap(text => {
      const [value, count] = text.split('*') as [string, string | undefined]
      const [a, b] = value.split('>').map(Number) as [number, number | undefined]
      const n = Number(count ?? 1)
      return Array.from({ length: n }, (_, i) => (b === undefined ? a : a + ((b - a) * i) / n))
    }),
  )
}

function zerosOf(forceN: Float64Array) {
  const timeS = forceN.map((_, i) => i * PERIOD_S)
  const segments: Segment[] = [
    { from: 0, to: forceN.length, began: 'start', name: '', sha256: '', shiftS: 0 },
  ]
  const quiets = quietStretches(timeS, forceN, segments, signal)
  const rezeros = findRezeros(timeS, forceN, segments, signal, quiets)
  const { epochs } = findZeros({
    timeS,
    forceN,
    segments,
    signal,
    quiets,
    rezeros,
    amendments: { zeros: [], holds: [] },
  })
  return { epochs, rezeros }
}

describe('a rest', () => {
  test('is no new zero where a push on the grips is let go', () => {
    expect(zerosOf(series('0*40 0>40*40 0*40 -30*10 0*60')).rezeros).toEqual([])
  })
  test('a push that is held and let go is no zero, before the pull as little as after', () => {
    for (const force of [
      series('0*16 0>-30*5 -30*20 -30>0*5 0*20 0>100*80 0*80'),
      series('0*40 0>100*80 0*40 0>-30*5 -30*50 -30>0*5 0*60'),
    ]) {
      const { epochs } = zerosOf(force)
      expect(epochs[0]).toMatchObject({ preloadN: 0, unseen: false })
      expect(zeroLevelAt(epochs[0]!, 4)).toBeCloseTo(0, 1)
    }
  })
  test('before any load it tells that the indicator was not zeroed under load, though the zero sinks later', () => {
    for (const before of ['', '0 1.5*4 ']) {
      const { epochs } = zerosOf(series(`${before}0>-0.1*100 0>100*80 -0.6*60`))
      expect(epochs[0]).toMatchObject({ preloadN: 0, unseen: false })
    }
    // Nothing before the load stands still: the first reading was nought with the slack taken up.
    expect(zerosOf(series('0>100*80 -3*60')).epochs[0]?.preloadN).toBeCloseTo(3, 0)
  })
  test('a level that is held at the start and read below later is none', () => {
    const { epochs } = zerosOf(series('0*40 0>60*60 -9 -9'))
    expect(epochs[0]).toMatchObject({ unseen: true, lone: false })
  })
  test('what is left of a specimen holds still for a moment, or climbs slowly: no rest', () => {
    expect(zerosOf(series('0*20 0>60*60 -5*8')).epochs[0]).toMatchObject({ unseen: true })
    expect(zerosOf(series('0*20 0>60*60 -5>-3*30')).epochs[0]).toMatchObject({ unseen: true })
  })
  test('of half a second after the break is a zero', () => {
    expect(zerosOf(series('0*20 0>60*60 -5*12')).epochs[0]).toMatchObject({ unseen: false, lone: false })
  })
  test('is confirmed by as little as two last samples that land on it', () => {
    expect(zerosOf(series('0*20 0>60*60 0*2')).epochs[0]).toMatchObject({ unseen: false, lone: false })
    expect(zerosOf(series('0*20 0>60*60')).epochs[0]).toMatchObject({ unseen: true, lone: true })
    expect(zerosOf(series('0*60 0>60*60')).epochs[0]).toMatchObject({ unseen: false, lone: true })
  })
  test('a brief rest after the break counts where one before it agrees', () => {
    expect(zerosOf(series('0*20 0>60*60 0*9')).epochs[0]).toMatchObject({ unseen: false, lone: false })
  })
})
