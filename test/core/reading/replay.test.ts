import { describe, expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/index.ts'
import { type Adjustment, withAdjustment, withoutAdjustment } from '../../../src/core/reading/adjustment.ts'
import { readingSchema } from '../../../src/core/reading/document.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'

const signed = { who: 'R. Weaver', when: '2026-05-04T14:20:00Z', why: 'heard it slip' }
const slips = makePull({ kind: 'saw-tooth', seed: 2 })
const strokes = makePull({ kind: 'strokes', seed: 1 })

const readSlips = (adjustments: readonly Adjustment[]) =>
  readRecording(slips.recording, { elements: slips.truth.elements, adjustments })
const readStrokes = (adjustments: readonly Adjustment[]) => readRecording(strokes.recording, { adjustments })
const plain = readSlips([])
const drop = plain.events.find(e => e.kind === 'partial-break')!
const relabel = (as: 'slip' | 'none', atS = drop.atS): Adjustment => ({
  ...signed,
  id: 'r',
  kind: 'relabel',
  atS,
  as,
})

describe('an adjustment changes the reading', () => {
  test('a drop taken as a slip is one, and its elements are the others’ again', () => {
    const reading = readSlips([relabel('slip')])
    expect(reading.events.find(e => Math.abs(e.atS - drop.atS) < 0.05)!.kind).toBe('slip')
    expect(reading.results.partialBreaks).toBe(plain.results.partialBreaks - 1)
    expect(reading.warnings.map(w => w.code)).toContain('slip')
  })

  test('a drop taken as nothing is gone', () => {
    const near = (e: { atS: number }) => Math.abs(e.atS - drop.atS) < 0.05
    expect(readSlips([relabel('none')]).events.filter(near)).toEqual([])
  })

  test('the later of two labels counts, whichever order they stand in', () => {
    const other = { ...relabel('none'), id: 's' }
    const kindOf = (list: readonly Adjustment[]) =>
      readSlips(list).events.find(e => Math.abs(e.atS - drop.atS) < 0.05)?.kind
    expect(kindOf([other, relabel('slip')])).toBe('slip')
    expect(kindOf([relabel('slip'), other])).toBeUndefined()
  })

  test('a zero that is named moves the peak by its level', () => {
    const { startS } = plain.recording
    const peakOf = (fromS: number, toS: number) =>
      readSlips([{ ...signed, id: 'z', kind: 'zero-here', fromS, toS }]).results.peakForce.valueN!
    const ramp = plain.pulls[0]!
    const middle = ramp.startS + 0.6 * (ramp.peakS - ramp.startS)
    expect(peakOf(startS, startS + 1)).toBeCloseTo(plain.results.peakForce.valueN!, 1)
    expect(peakOf(middle, middle + 0.3)).toBeLessThan(0.8 * plain.results.peakForce.valueN!)
  })

  test('a pull that is left out is not counted', () => {
    const first = readStrokes([]).pulls[0]!
    const reading = readStrokes([{ ...signed, id: 'p', kind: 'drop-pull', atS: first.peakS }])
    expect(reading.pulls.length).toBe(readStrokes([]).pulls.length - 1)
    expect(reading.pulls[0]!.startS).toBeGreaterThan(first.endS)
  })

  test('readings that are cut out are not read', () => {
    const fromS = plain.results.peakForce.atS! - 1
    const reading = readSlips([{ ...signed, id: 'c', kind: 'cut', fromS, toS: plain.recording.endS }])
    expect(reading.results.peakForce.valueN!).toBeLessThan(plain.results.peakForce.valueN!)
  })

  test('elements given by adjustment count before those given with the command', () => {
    const reading = readSlips([{ ...signed, id: 'n', kind: 'elements', count: null }])
    expect(reading.events.every(e => e.elements === null)).toBe(true)
  })
})

describe('the list', () => {
  test('stands in the document, which keeps its shape', () => {
    const list = [relabel('slip')]
    const reading = readSlips(list)
    expect(reading.adjustments).toEqual(list)
    expect(readingSchema.parse(JSON.parse(JSON.stringify(reading)))).toEqual(
      JSON.parse(JSON.stringify(reading)),
    )
    expect(plain.adjustments).toBeUndefined()
  })

  test('replayed twice gives the same document', () => {
    expect(readSlips([relabel('slip')])).toEqual(readSlips([relabel('slip')]))
  })

  test('taking one out gives the reading back as it was', () => {
    const list = withAdjustment([], relabel('slip'))
    expect(readSlips(withoutAdjustment(list, 'r'))).toEqual(plain)
  })

  test('never changes the recording', () => {
    const before = slips.recording.forceN.slice()
    readSlips([relabel('none'), { ...signed, id: 'c', kind: 'cut', fromS: 0, toS: 2 }])
    expect(slips.recording.forceN).toEqual(before)
  })
})

describe('an adjustment that finds nothing is a warning', () => {
  const strays: readonly Adjustment[] = [
    relabel('slip', 900),
    { ...signed, id: 'z', kind: 'zero-here', fromS: 900, toS: 901 },
    { ...signed, id: 'p', kind: 'drop-pull', atS: 900 },
    { ...signed, id: 'c', kind: 'cut', fromS: 900, toS: 901 },
  ]
  test.each(strays)('$kind', stray => {
    const reading = readSlips([stray])
    expect(reading.warnings.filter(w => w.code === 'adjustment-without-target')).toHaveLength(1)
    expect(reading.results.peakForce).toEqual(plain.results.peakForce)
    expect(reading.pulls).toEqual(plain.pulls)
  })

  test('one that finds its target is none', () => {
    const codes = readSlips([relabel('none')]).warnings.map(w => w.code)
    expect(codes).not.toContain('adjustment-without-target')
  })
})
