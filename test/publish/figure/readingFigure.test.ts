import { beforeAll, describe, expect, test } from 'vitest'
import { LIGHT, LOOKS } from '../../../src/publish/figure/look.ts'
import { lookIn, SHAPES } from '../../../src/publish/figure/shape.ts'
import { studyFigure } from '../../../src/publish/figure/studyFigure.ts'
import { textWidth } from '../../../src/publish/figure/textWidth.ts'
import type { PublishedStudy } from '../../../src/publish/study/study.ts'
import { good } from '../../store/stores.ts'
import { toldDemo } from '../toldDemo.ts'

let study: PublishedStudy
beforeAll(async () => {
  study = await toldDemo()
}, 60_000)

/** Every text of an SVG in the small size, with the box that it fills at most. */
function boxesOf(svg: string, size: number) {
  return [...svg.matchAll(/<text x="([\d.]+)" y="([\d.]+)"([^>]*)>([^<]+)<\/text>/g)]
    .filter(found => !found[3]!.includes('text-anchor="end"'))
    .map(([, x, y, , text]) => ({
      text: text!,
      left: Number(x),
      right: Number(x) + textWidth(text!, size),
      top: Number(y) - 0.7 * size,
      bottom: Number(y),
    }))
}

describe.each(['page', 'wide'] as const)('in the shape %s', name => {
  test('no label of an event lies over the name of the right axis', () => {
    const shape = SHAPES[name]
    const { small } = lookIn(LIGHT, shape).size
    let nearTheEdge = 0
    for (const { name: specimen } of study.specimens) {
      const svg = good(studyFigure(study, 'pull', { shape, look: LOOKS.light, specimen }))
      const boxes = boxesOf(svg, small)
      const axis = boxes.find(({ text }) => text === 'newton')!
      const labels = boxes.filter(({ text }) => /^(a part let go|broke|re-gripped|slipped)/.test(text))
      for (const label of labels) {
        if (label.right <= axis.left) continue
        nearTheEdge++
        const apart = label.bottom <= axis.top || label.top >= axis.bottom || label.left >= axis.right
        expect({ specimen, label: label.text, apart }).toMatchObject({ apart: true })
      }
    }
    expect(nearTheEdge).toBeGreaterThan(0)
  })
})

describe('events of a pull', () => {
  const counting = (text: string): number[] => {
    const [, from, to = from] = /^(\d+)(?:–(\d+))?$/.exec(text) ?? []
    return from === undefined ? [] : Array.from({ length: +to! - +from + 1 }, (_, k) => +from + k)
  }
  test.each(['upright', 'square', 'wide', 'page'] as const)(
    '%s: every event has its words or a number in the list',
    name => {
      const shape = SHAPES[name]
      let numbered = 0
      for (const { name: specimen, reading } of study.specimens) {
        const svg = good(studyFigure(study, 'pull', { shape, look: LOOKS.light, specimen }))
        const ticks = [
          ...svg.matchAll(/<g data-at="[\d.]+"><title>[^<]*<\/title><line [^>]*\/>(?:<text[^>]*>([^<]*)<)?/g),
        ]
        expect(ticks.length, specimen).toBe(reading!.events.length)
        const over = ticks.map(([, text = '']) => text)
        const numbers = over.flatMap(counting)
        const words = over.filter(text => text !== '' && counting(text).length === 0)
        expect(words.length + numbers.length, `${specimen}: ${over.join(' | ')}`).toBe(ticks.length)
        const list = textsOf(svg).flatMap(text => text.split(' · '))
        for (const n of numbers)
          expect(
            list.filter(item => item.startsWith(`${n} `)),
            specimen,
          ).toHaveLength(1)
        numbered += numbers.length
      }
      if (name === 'upright') expect(numbered).toBeGreaterThan(20)
    },
  )
})

const textsOf = (svg: string): string[] => [...svg.matchAll(/<text [^>]*>([^<]+)</g)].map(([, text]) => text!)
