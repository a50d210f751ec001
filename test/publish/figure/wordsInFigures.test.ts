import { beforeAll, describe, expect, test } from 'vitest'
import { FORCE_UNITS } from '../../../src/core/units/force.ts'
import { FIGURES } from '../../../src/publish/figure/figureNames.ts'
import { SHAPE_NAMES, SHAPES } from '../../../src/publish/figure/shape.ts'
import { studyFigure } from '../../../src/publish/figure/studyFigure.ts'
import type { PublishedStudy } from '../../../src/publish/study/study.ts'
import { toldDemo } from '../toldDemo.ts'
import { axisFaults, lineFaults, wordFaults } from './geometry.ts'

let study: PublishedStudy
beforeAll(async () => {
  study = await toldDemo()
}, 120_000)

test('the measure finds a word out of the frame and one over another', () => {
  const words =
    '<text x="90" y="20">wide word</text><text x="10" y="50">one</text><text x="12" y="52">two</text>'
  expect(wordFaults(`<svg viewBox="0 0 100 100" font-size="12">${words}</svg>`)).toEqual([
    '“wide word” runs out of the frame',
    '“one” lies over “two”',
  ])
})

describe.each(FIGURES)('%s', what => {
  test.each(SHAPE_NAMES)('%s: no word leaves the frame or lies over another, in any unit', name => {
    for (const forceUnit of FORCE_UNITS)
      for (const specimen of what === 'pull' ? study.specimens.map(({ name }) => name) : [null]) {
        const drawn = studyFigure({ ...study, forceUnit }, what, { shape: SHAPES[name], specimen })
        if (drawn.ok) {
          const faults = [...wordFaults(drawn.value), ...axisFaults(drawn.value), ...lineFaults(drawn.value)]
          expect(faults, `${specimen ?? what} in ${forceUnit}`).toEqual([])
        } else expect(specimen).not.toBeNull()
      }
  })
})
