import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen } from '../../../src/core/statistics/compare/specimen.ts'
import { dotsFigure } from '../../../src/publish/figure/dotsFigure.ts'
import { apart, gapIn } from '../../../src/publish/figure/headLines.ts'
import { LIGHT } from '../../../src/publish/figure/look.ts'
import { pointLabels } from '../../../src/publish/figure/pointLabels.ts'
import { lookIn, SHAPES } from '../../../src/publish/figure/shape.ts'
import { brokenTo, textWidth } from '../../../src/publish/figure/textWidth.ts'
import { weibullFigure } from '../../../src/publish/figure/weibullFigure.ts'

const group = (name: string, ...values: number[]) =>
  values.map((v, i) => plainSpecimen(`${name} ${i + 1}`, name, v))
const paste = group('paste', 11.46, 8.66, 9.88)
const stitch = group('stitch <b>', 14.1, 12.3, 13.9, 15.2)
const comparison = compareGroups(
  [
    ...paste,
    ...stitch.map((s, i) =>
      i === 0 ? { ...s, status: 'at-least' as const } : i === 1 ? { ...s, dropped: 'slipped' } : s,
    ),
  ],
  { quantity: 'peakForce', unit: 'N' },
)
const count = (text: string, part: string) => text.split(part).length - 1

describe('dotsFigure', () => {
  const svg = dotsFigure(comparison)
  test('has one mark for each specimen that has a value, dropped and bounded ones too', () => {
    for (const name of ['paste 1', 'paste 2', 'paste 3', 'stitch &#60;b&#62; 4'])
      expect(svg).toContain(`<title>${name}: `)
    expect(svg).toContain('at least 14.1')
    expect(svg).toContain('dropped: slipped')
    expect(count(svg, '<circle')).toBe(7)
  })
  test('says in words what it shows, from the data', () => {
    expect(svg).toContain('<title>Peak force of paste and stitch')
    expect(svg).toMatch(/<desc>Every specimen is a dot.*paste: 11.5, 8.66, 9.88; mean 10.0 ± 3.5 N/)
  })
  test('text from a table cannot become markup', () => expect(svg).not.toContain('<b>'))
  test('the same data give the same bytes', () => expect(dotsFigure(comparison)).toBe(svg))
  test('nothing measured draws all the same', () => {
    const empty = paste.map(s => ({ ...s, value: null, status: 'not-recorded' as const }))
    expect(dotsFigure(compareGroups(empty, { quantity: 'peakForce', unit: 'N' }))).toContain('3 not recorded')
  })
  test('the mean with its interval is told within the figure, however wide the interval', () => {
    const wide = compareGroups([...group('a', 380, 420, 690), ...group('b', 236, 270, 330)], {
      quantity: 'peakForce',
      unit: 'N',
    })
    for (const shape of Object.values(SHAPES)) {
      const svg = dotsFigure(wide, { look: lookIn(LIGHT, shape), width: shape.width, height: shape.height })
      const told = [...svg.matchAll(/<text x="([\d.-]+)"[^>]*text-anchor="(start|end)"[^>]*>(\d+ ± \d+)</g)]
      expect(told).toHaveLength(2)
      for (const [, x, anchor, text] of told) {
        const room = textWidth(text!, lookIn(LIGHT, shape).size.small)
        expect(anchor === 'end' ? Number(x) - room : Number(x)).toBeGreaterThanOrEqual(0)
        expect(anchor === 'end' ? Number(x) : Number(x) + room).toBeLessThanOrEqual(shape.width)
      }
    }
  })
  test('values that lie on one another are stacked, none hidden', () => {
    const same = dotsFigure(compareGroups([...group('a', 5, 5, 5, 5), ...paste], { quantity: 'x', unit: '' }))
    const places = [
      ...same.matchAll(/<title>a \d: 5.00<\/title>(?:<line[^>]*>)*<circle cx="([\d.]+)" cy="([\d.-]+)"/g),
    ].map(m => `${m[1]} ${m[2]}`)
    expect(new Set(places).size).toBe(4)
  })
})

describe('weibullFigure', () => {
  test('a line where there is a fit, points and a word where there is none', () => {
    const svg = weibullFigure(
      compareGroups([...group('many', 8, 9, 9.5, 10, 10.4, 11), ...group('two', 5, 6)], {
        quantity: 'peakForce',
        unit: 'N',
      }),
    )
    expect(svg).toContain('too few for a fit')
    expect(svg).toMatch(/many: 6 values, shape \d+\.\d\d/)
  })
  test('a group without a line is named beside its points, in the plot and over none of them', () => {
    const svg = weibullFigure(
      compareGroups(
        [...group('many', 8, 9, 9.5, 10, 10.4, 11), ...group('one', 9.9), ...group('two', 9.8, 10.1)],
        { quantity: 'peakForce', unit: 'N' },
      ),
    )
    const named = [...svg.matchAll(/<text x="([\d.]+)"[^>]*stroke-width="3"[^>]*>([^<]+)</g)]
    expect(named.map(found => found[2])).toEqual(['one', 'two'])
    const places = pointLabels(
      [
        { name: 'one', marks: [{ x: 100, y: 50 }] },
        { name: 'two', marks: [{ x: 112, y: 50 }] },
        { name: 'three', marks: [{ x: 290, y: 80 }] },
      ],
      {
        left: 0,
        right: 300,
        sizePx: 12,
        taken: [
          { x: 100, y: 50 },
          { x: 112, y: 50 },
          { x: 290, y: 80 },
        ],
      },
    )
    // To the right of the first stands a mark, and past the last the plot ends.
    expect(places[0]!.x + textWidth('one', 12)).toBe(90)
    expect(places[1]!.x).toBe(122)
    expect(places[2]!.x + textWidth('three', 12)).toBe(280)
  })
  test('bounds raise the ranks above them and take no point of their own', () => {
    const svg = weibullFigure(comparison)
    // paste 3, stitch 2: one bound, one dropped left out
    expect(count(svg, '<circle') + count(svg, '<polygon')).toBe(3 + 2)
  })
  test('a failure mode has the mark that it has in the figure of all specimens', () => {
    const tore = compareGroups(
      [...paste.map(s => ({ ...s, mode: 'tore' })), ...stitch.map(s => ({ ...s, mode: 'let go' }))],
      { quantity: 'peakForce', unit: 'N' },
    )
    const squares = (svg: string) => svg.match(/<polygon points="[^"]*"/g)?.length
    expect(weibullFigure(tore)).toContain('>let go</text>')
    // Each of the four that let go is a square, and so is the one in the legend.
    expect(squares(weibullFigure(tore))).toBe(4 + 1)
    expect(squares(dotsFigure(tore))).toBe(4 + 1)
  })
})

test('lines are broken at spaces, labels pushed apart but kept in order and in the plot', () => {
  expect(brokenTo('one two three', 40, 10).join('|')).toBe('one two|three')
  expect(apart([10, 12, 50], 20, 100)).toEqual([10, 30, 50])
  const low = apart([95, 96, 97], 20, 100)
  expect(low).toEqual([60, 80, 100])
})

test('more labels than have room stand closer, and none leaves the plot', () => {
  const places = [50, 50, 60, 70, 70, 80, 90, 100]
  const gap = gapIn(places.length, 20, [30, 100])
  expect(gap).toBe(10)
  expect(apart(places, gap, 100)).toEqual([30, 40, 50, 60, 70, 80, 90, 100])
  expect(gapIn(3, 20, [30, 100])).toBe(20)
})
