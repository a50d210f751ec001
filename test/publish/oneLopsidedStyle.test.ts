import { expect, test } from 'vitest'
import { compareText } from '../../src/cli/compare/compareText.ts'
import { valueWords } from '../../src/core/answer/words.ts'
import type { PeakForce } from '../../src/core/reading/document.ts'
import { explain } from '../../src/core/reading/explain.ts'
import { showForceIn } from '../../src/core/reading/explainLedger.ts'
import { peakWords } from '../../src/core/reading/peakWords.ts'
import { compareGroups } from '../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen } from '../../src/core/statistics/compare/specimen.ts'
import { readingFigure } from '../../src/publish/figure/readingFigure.ts'
import { reportOf } from '../../src/publish/report/report.ts'
import type { PublishedStudy } from '../../src/publish/study/study.ts'
import { shownOf } from '../../src/web/compare/shown.ts'
import { rowsOf } from '../../src/web/compare/tableRows.ts'
import { figuresOf } from '../../src/web/read/figures.ts'
import { toldDemo } from './toldDemo.ts'

/** One peak that reaches farther up than down, told by every door. */
const LOPSIDED = { valueN: 8.108, uncertaintyN: 0.027, lowN: 8.092, highN: 8.146 } as const
const WORDS = '8.108 N (8.092 to 8.146 N)'

const io = { out: () => {}, err: () => {}, outIsTerminal: false, errIsTerminal: false, columns: 100, env: {} }

/** The demo with that peak as its first specimen's. */
async function withThatPeak(): Promise<PublishedStudy> {
  const study = await toldDemo()
  const specimens = study.specimens.map((one, i) => {
    if (i > 0 || one.reading === null) return one
    const peakForce: PeakForce = { ...one.reading.results.peakForce, ...LOPSIDED, zero: 'seen' }
    return { ...one, reading: { ...one.reading, results: { ...one.reading.results, peakForce } } }
  })
  return { ...study, specimens, forceUnit: 'N' }
}

test('a lopsided interval is given in one way: by its ends, in every door', async () => {
  const { specimens, ...study } = await withThatPeak()
  const { reading, recording } = specimens[0]!
  expect(peakWords(reading!.results.peakForce, 'N')).toBe(WORDS)
  expect(explain(reading!, showForceIn('N')).whys[0]!.text).toContain(WORDS)
  const told = JSON.stringify(reportOf({ ...study, specimens }, ['specimens']))
  expect(told.split(WORDS).length - 1).toBeGreaterThanOrEqual(3)
  expect(readingFigure(recording!, reading!, { unit: 'N' })).toContain(WORDS)
  for (const text of [told, JSON.stringify(figuresOf(reading!, 'N', showForceIn('N')))])
    expect(text).not.toContain('8.108 ± 0.027')
})

test('so is that of a value in a comparison, in the terminal and in the app', () => {
  const group = (name: string, ...values: number[]) =>
    values.map((value, i) => plainSpecimen(`${name} ${i + 1}`, name, value))
  const [first, ...others] = [...group('a', 8.108, 8.3, 8.2), ...group('b', 9, 9.2, 9.3)]
  const comparison = compareGroups([{ ...first!, low: 8.092, high: 8.146 }, ...others], {
    quantity: 'peakForce',
    unit: 'N',
  })
  expect(compareText(comparison, null, io)).toContain('a 1 8.108 (8.092 to 8.146)')
  const { cells } = rowsOf(comparison, shownOf(comparison, 'N'))[0]!
  expect([cells.value, cells.doubt]).toEqual(['8.108 N', '8.092 to 8.146 N'])
  const value = { middle: 8.108, low: 8.092, high: 8.146, atLeast: false }
  expect(valueWords({ value }, { unit: 'N', per: 1 }, true)).toBe(WORDS)
})
