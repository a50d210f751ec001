import { describe, expect, test } from 'vitest'
import { demoStudy } from '../../../src/capture/pretend/index.ts'
import { elementsOf } from '../../../src/core/reading/elementsOf.ts'
import { inNewton } from '../../../src/core/reading/explainLedger.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { showForce } from '../../../src/core/units/showForce.ts'
import { joinRecordings } from '../../../src/logs/index.ts'
import { beforeAfter } from '../../../src/web/read/adjust/beforeAfter.ts'
import { levelsOf, peakOf, ticksOf } from '../../../src/web/read/curveMarks.ts'
import { eventSentence } from '../../../src/web/read/eventSentence.ts'
import { figuresOf } from '../../../src/web/read/figures.ts'

const study = demoStudy(1)
const recordingOf = (name: string) => {
  const joined = joinRecordings(
    study.find(({ specimen }) => specimen === name)!.logs.map(log => log.recording),
  )
  if (!joined.ok) throw new Error('not joined')
  return joined.value
}
const hotMelt = recordingOf('hot-melt-2')
const stitched = recordingOf('stitching-3')
const plain = (text: string) => text
const signature = { id: 'a', who: 'Ann', when: '2026-05-04T14:20:00Z', why: 'counted' }

describe('figures', () => {
  const reading = readRecording(stitched, { elements: 14 })
  const figures = figuresOf(reading, 'N', inNewton)
  test('a later peak is one of them, with its doubt, its reason and its moment', () => {
    const [later] = reading.results.laterPeaks
    if (!later) throw new Error('the demo has a later peak')
    expect(figures[0]).toMatchObject({
      words: showForce(later.valueN, later.uncertaintyN, 'N'),
      unit: 'N',
      atS: later.atS,
    })
    expect(figures[0]?.why).toContain('After the main break')
  })
  test('each has its own name, and none is without a word', () => {
    expect(new Set(figures.map(({ id }) => id)).size).toBe(figures.length)
    for (const { words } of figures) expect(words).toMatch(/\d/)
  })
  test('a rate without extension is told once, as a rate', () => {
    expect(figures.some(({ id }) => id === 'stiffness')).toBe(false)
    expect(figures.find(({ id }) => id === 'loadingRate')?.why).toContain('no extension was logged')
  })
})

describe('marks on the curve', () => {
  const reading = readRecording(hotMelt, { elements: 8 })
  test('a tick for each event, a level where no load did not read zero, and the peak', () => {
    expect(ticksOf(reading, 'kgf', { kind: 'time' }, plain)).toHaveLength(reading.events.length)
    expect(levelsOf(reading, 'kgf', plain)[0]?.label).toMatch(/no load read −0\.8\d+ kgf/)
    expect(peakOf(reading, 'kgf', { kind: 'time' }, plain)?.at).toBe(reading.results.peakForce.atS)
  })
  test('on a joined curve an event that is not on it has no tick', () => {
    const joined = {
      against: 'loading-time',
      unit: 's',
      from: 0,
      to: 1,
      joins: [],
      selvedge: [],
      zeroChoices: [],
      eventsAt: reading.events.map((_, i) => (i === 0 ? 0.5 : null)),
      peakAt: null,
      part: null,
    } as const
    expect(ticksOf(reading, 'N', { kind: 'joined', joined }, plain)).toHaveLength(1)
    expect(peakOf(reading, 'N', { kind: 'joined', joined }, plain)).toBeNull()
  })
  test('an adjusted number of elements counts before the specimen’s', () => {
    const adjusted = readRecording(hotMelt, {
      elements: 8,
      adjustments: [{ ...signature, kind: 'elements', count: 6 }],
    })
    expect(elementsOf(reading)).toBeNull()
    expect(elementsOf(adjusted)).toBe(6)
  })
})

describe('an event as a sentence', () => {
  const event = {
    kind: 'partial-break',
    atS: 12.3,
    beforeN: 45.2,
    afterN: 37.8,
    dropN: 7.4,
    elements: { estimate: 1, low: 1, high: 2 },
    confidence: 0.9,
  } as const
  test('says from what to what, by how much, and how many went', () => {
    expect(eventSentence(event, 'N', 1, 10)).toBe(
      'A part let go: the force fell from 45.2 to 37.8 N, by 7.4 N. 1 to 2 of 10 elements went.',
    )
  })
  test('says where it is doubtful', () => {
    expect(eventSentence({ ...event, elements: null, confidence: 0.4 }, 'N', 1, null)).toMatch(/doubtful/)
  })
})

describe('before and after', () => {
  const before = readRecording(hotMelt, { elements: 8 })
  test('only the peak where nothing changes', () => {
    expect(beforeAfter(before, before, 'N')).toHaveLength(1)
  })
  test('a drop taken out is seen in the number of partial breaks', () => {
    const drop = before.events.find(({ kind }) => kind === 'partial-break')!
    const after = readRecording(hotMelt, {
      elements: 8,
      adjustments: [{ ...signature, kind: 'relabel', atS: drop.atS, as: 'slip' }],
    })
    const changed = beforeAfter(before, after, 'N')
    expect(changed.find(({ name }) => name === 'Slips')).toMatchObject({ before: '0', after: '1' })
    expect(changed.find(({ name }) => name === 'Partial breaks')).toMatchObject({
      before: `${before.results.partialBreaks}`,
      after: `${before.results.partialBreaks - 1}`,
    })
  })
})
