import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import type { Comparison } from '../../../src/core/statistics/document.ts'
import { ran } from '../fakeIo.ts'

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-one-mode-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const table = join(folder, 'values.csv')
const values = { paste: [50, 52, 47, 55, 49, 51], stitch: [60, 58, 63, 57, 61, 59] }
writeFileSync(
  table,
  `specimen,variant,peak (N),mode\n${Object.entries(values)
    .flatMap(([variant, own]) =>
      own.map((v, i) => `${variant} ${i},${variant},${v},${i === 2 ? 'tear' : 'peel'}\n`),
    )
    .join('')}`,
)
const compare = (...words: string[]) => ran(['compare', '--table', table, ...words])

test('--mode compares one way of failing, and says so', async () => {
  const { out, code } = await compare('--mode', 'peel')
  expect(code).toBe(0)
  expect(out.replaceAll(/\s+/g, ' ')).toContain(
    'Against failing by “peel” alone: stitch holds more than paste',
  )
  const document = JSON.parse((await compare('--mode', 'peel', '--json')).out) as Comparison
  expect(document.groups.map(g => g.censored)).toEqual([1, 1])
})

test('a way that none failed in is refused, with those that are known', async () => {
  const { code, err } = await compare('--mode', 'melt')
  expect(code).toBe(2)
  expect(err).toContain('--mode is peel and tear')
})

test('--holds says how many held a load, in the unit shown', async () => {
  const { out } = await compare('--holds', '50')
  expect(out.replaceAll(/\s+/g, ' ')).toMatch(
    /4 of 6 paste held 50\.0 N: with 95 % confidence at least 27 in 100 do/,
  )
  const kgf = JSON.parse((await compare('--holds', '5', '--show', 'kgf', '--json')).out) as Comparison
  expect(kgf.proof!.load).toBeCloseTo(5 * 9.80665, 9)
})

test('the power curve of a trend and of being as good as each other can be drawn', async () => {
  for (const goal of [
    ['--trend', '15%'],
    ['--within', '10%'],
  ]) {
    const figure = join(folder, 'power.svg')
    const { code } = await ran([
      'plan',
      '--variants',
      'a,b,c',
      '--scatter',
      '8%',
      ...goal,
      '--figure',
      figure,
    ])
    expect(code).toBe(0)
    expect(readFileSync(figure, 'utf8')).toContain('Chance of showing it')
  }
})
