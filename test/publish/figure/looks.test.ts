import { describe, expect, test } from 'vitest'
import { LOOKS, VARIANT_DASHES } from '../../../src/publish/figure/look.ts'
import { apartFor, contrast, VISION, type Vision } from './colourVision.ts'

const pairs = <T>(all: readonly T[]): [T, T][] =>
  all.flatMap((a, i) => all.slice(i + 1).map((b): [T, T] => [a, b]))
const coloured = (Object.keys(VISION) as Vision[]).filter(vision => vision !== 'achromatopsia')

describe('the measure itself', () => {
  test('black and white are 100 apart, and a colour from itself 0', () => {
    expect(apartFor('usual', '#000000', '#ffffff')).toBeCloseTo(100, 1)
    expect(apartFor('deuteranopia', '#1f4e8c', '#1f4e8c')).toBe(0)
  })
  // L*a*b* of sRGB red (53.24, 80.09, 67.20) and green (87.73, −86.18, 83.18), D65: as published for these primaries (from memory).
  test('red and green are as far apart as their L*a*b* say, and near one another for those who lack one cone', () => {
    expect(apartFor('usual', '#ff0000', '#00ff00')).toBeCloseTo(Math.hypot(34.49, 166.27, 15.98), 0)
    expect(apartFor('deuteranopia', '#a05030', '#6a7030')).toBeLessThan(10)
  })
  test('contrast of black on white is 21', () => expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5))
})

describe.each(Object.entries(LOOKS))('%s', (_, look) => {
  test.each(coloured)('variants are apart for %s', vision => {
    for (const [a, b] of pairs(look.variants)) expect(apartFor(vision, a, b), `${a} ${b}`).toBeGreaterThan(14)
  })
  test('warning and accent are never red against green: apart for all, without colour too', () => {
    for (const vision of coloured) expect(apartFor(vision, look.accent, look.warning)).toBeGreaterThan(30)
  })
  test('words have 4.5 : 1 on paper, ink 7 : 1, faint lines 3 : 1', () => {
    for (const colour of [look.pencil, look.accent, look.warning, ...look.variants])
      expect(contrast(colour, look.paper), colour).toBeGreaterThanOrEqual(4.5)
    expect(contrast(look.ink, look.paper)).toBeGreaterThanOrEqual(7)
    expect(contrast(look.faint, look.paper)).toBeGreaterThanOrEqual(3)
  })
})

test('dashes tell variants apart where no colour does', () =>
  expect(new Set(VARIANT_DASHES).size).toBe(VARIANT_DASHES.length))
