import { describe, expect, test } from 'vitest'
import { eventLabel } from '../../../src/core/reading/eventLabel.ts'
import { explain } from '../../../src/core/reading/explain.ts'
import { peakWords } from '../../../src/core/reading/peakWords.ts'
import { frameCount } from '../../../src/publish/clip/frameTimes.ts'
import { walkClip, walkOf } from '../../../src/publish/clip/walkClip.ts'
import { walkShapes } from '../../../src/publish/clip/walkShapes.ts'
import { walkSteps } from '../../../src/publish/clip/walkSteps.ts'
import { LIGHT } from '../../../src/publish/figure/look.ts'
import { demoRead } from './demoTakes.ts'

const read = demoRead()
const stepsOf = (name: string) => walkSteps(read.find(one => one.name === name)!.reading, 'N')

describe.each(read)('$name', ({ reading }) => {
  const steps = walkSteps(reading, 'N')

  test('goes from the record and its zero to the result with its doubt, and the curve only grows', () => {
    expect(steps.slice(0, 2).map(step => step.kind)).toEqual(['raw', 'zero'])
    expect(steps.at(-1)?.kind).toBe('end')
    const shown = peakWords(reading.results.peakForce, 'N')
    expect(steps.at(-1)?.sentence.toLowerCase()).toContain(shown.toLowerCase())
    for (const [i, step] of steps.entries()) {
      expect(step.toS).toBeGreaterThanOrEqual(i === 0 ? -Infinity : steps[i - 1]!.toS)
      expect(step.sentence).toMatch(/^[A-Z\d−].*\.$/)
    }
  })

  test('has a step for each event and each later peak, in the words of the reading', () => {
    const told = steps.map(step => step.sentence).join('\n')
    const parts = steps.filter(step => step.kind === 'part')
    expect(parts).toHaveLength(reading.results.partialBreaks)
    expect(steps.filter(step => step.kind === 'later')).toHaveLength(reading.results.laterPeaks.length)
    for (const event of reading.events.filter(one => one.kind === 'partial-break' || one.kind === 'slip')) {
      const [words = ''] = eventLabel(event, { unit: 'N', decimals: 1, elements: null }).split(',')
      const it = event.kind === 'slip' ? 'it ' : ''
      expect(told.toLowerCase()).toContain(`at ${event.atS.toFixed(2)} s ${it}${words}`)
    }
    const [peakSentence = ''] = explain(reading)
      .whys.find(why => why.about === 'peakForce')!
      .text.split(/(?<=\.) (?=[A-Z\d])/)
    expect(steps.some(step => step.sentence === peakSentence)).toBe(true)
  })
})

test('the zero that was set under load is told with what it takes to mend it', () => {
  expect(stepsOf('hot-melt-2')[1]?.sentence).toMatch(
    /^Zero was set with the slack taken up: without load the cell read −8\.3\d N, so 8\.3\d N is added to the peak\.$/,
  )
})

test('the re-grip is one step, before the peak; the hem tape comes later', () => {
  const kinds = stepsOf('stitching-3').map(step => step.kind)
  expect(kinds.indexOf('handled')).toBe(2)
  expect(kinds.indexOf('peak')).toBe(3)
  expect(kinds.at(-2)).toBe('later')
  expect(stepsOf('stitching-1').find(step => step.kind === 'break')?.sentence).toMatch(
    /^At [\d.]+ s it broke, −[\d.]+ N\.$/,
  )
  expect(stepsOf('stitching-3')[2]?.sentence).toMatch(
    /^At [\d.]+ s the pull was backed off; at [\d.]+ s it was re-gripped\.$/,
  )
})

test('a long saw-tooth is told in handfuls', () => {
  const { reading } = read.find(one => one.name === 'stitching-2')!
  const first = reading.events.find(event => event.kind === 'partial-break')!
  const teeth = Array.from({ length: 100 }, (_, i) => ({ ...first, atS: first.atS + i * 0.01 }))
  const steps = walkSteps({ ...reading, events: teeth }, 'N').filter(step => step.kind === 'part')
  expect(steps.length).toBeLessThanOrEqual(12)
  expect(steps.flatMap(step => step.sentence.match(/a part let go/g) ?? [])).toHaveLength(100)
})

test('the clip shows each step for its time, the curve growing out of the step before', () => {
  const { name, recording, reading } = read.find(one => one.name === 'hot-melt-1')!
  const walk = walkOf(recording, reading, { name, unit: 'N' })
  const look = { width: 640, height: 360, look: LIGHT }
  const clip = walkClip(walk, look, { rate: { num: 10, den: 1 }, stepS: 2 })
  expect(frameCount(clip.times)).toBe(20 * walk.steps.length)
  for (const [i] of walk.steps.entries())
    expect(clip.shapesAt(20 * i + 19)).toEqual(walkShapes(walk, i, look))
  expect(clip.keyAt(40)).not.toBe(clip.keyAt(41))
  expect(clip.keyAt(58)).toBe(clip.keyAt(59))
})
