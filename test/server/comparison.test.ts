import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Comparison } from '../../src/core/statistics/document.ts'
import { ask, json, type Running, running } from './running.ts'

let run: Running
let path = ''
const call = async <T>(method: string, at: string, body?: unknown): Promise<T> => {
  const { status, text } = await ask(run.server, method, at, body === undefined ? {} : json(body))
  if (status !== 200) throw new Error(`${status} ${text}`)
  return JSON.parse(text) as T
}
const compared = (query: string) => call<Comparison>('GET', `${path}?${query}`)

/** Three variants, six of each on three days, with widths and two ways of failing; paste is the control. */
beforeAll(async () => {
  run = await running()
  const study = await call<{ id: string }>('POST', '/api/studies', {
    name: 'Handles',
    failureModes: ['peel', 'tear'],
  })
  path = `/api/studies/${study.id}/comparison`
  const steps = ['paste', 'glue', 'stitch'].flatMap((variant, v) =>
    Array.from({ length: 6 }, (_, i) => ({
      kind: 'add',
      name: `${variant} ${i + 1}`,
      variant,
      fields: {
        status: 'pulled',
        pulledOn: `2026-03-0${1 + (i % 3)}`,
        widthMm: 20 + ((i * 7 + v) % 5),
        failureMode: i % 3 === 0 ? 'tear' : 'peel',
        typedPeak: {
          value: 50 + 10 * v + ((i * 5 + v) % 7),
          unit: 'N',
          isAtLeast: false,
          step: null,
          doubt: null,
          who: '',
        },
      },
    })),
  )
  await call('POST', `/api/studies/${study.id}/edits`, { steps, who: '', what: 'typed' })
  const { variants } = await call<{ variants: { id: string; name: string }[] }>(
    'GET',
    `/api/studies/${study.id}`,
  )
  const control = variants.find(({ name }) => name === 'paste')!
  await call('PATCH', `/api/variants/${control.id}`, { control: true })
}, 60_000)
afterAll(() => run?.stop())

test('each with each, and nothing as good as anything, unless asked', async () => {
  const { pairs, worthShare, family, mode, blocks } = await compared('quantity=peakForce')
  expect(pairs).toHaveLength(3)
  expect([worthShare, family.against, mode, blocks]).toEqual([null, null, null, null])
})

test('all with the control alone', async () => {
  const { pairs, family } = await compared('againstControl=true')
  expect(family).toMatchObject({ count: 2, against: 'paste' })
  expect(pairs.every(({ a, b }) => a === 'paste' || b === 'paste')).toBe(true)
  expect((await compared('againstControl=false')).pairs).toHaveLength(3)
})

test('what a difference is worth', async () => {
  const { worthShare, pairs } = await compared('worthShare=0.5')
  expect(worthShare).toBe(0.5)
  expect(pairs.some(({ equivalence }) => equivalence?.shown)).toBe(true)
})

test('within days, with the width taken out too', async () => {
  const { blocks, covariate, pairs } = await compared('blocksBy=day&covariate=width')
  expect(blocks).toMatchObject({ by: 'day', tied: true })
  expect(covariate).toMatchObject({ name: 'width' })
  expect(pairs[0]!.decidedBy).toBe('blocks')
})

test('one way of failing', async () => {
  const { mode, groups, specimens, pairs } = await compared('mode=peel')
  expect(mode).toBe('peel')
  expect(groups.map(({ censored }) => censored)).toEqual([2, 2, 2])
  expect(specimens.filter(s => s.failedOtherwise).every(s => s.mode === 'tear')).toBe(true)
  expect(pairs.every(({ decidedBy }) => decidedBy === 'censored')).toBe(true)
})

test.each([
  'againstControl=yes',
  'worthShare=0',
  'worthShare=x',
  'covariate=colour',
  'blocksBy=moon',
  'mode=',
])('%s is refused, with what would do', async query => {
  const { status, text } = await ask(run.server, 'GET', `${path}?${query}`)
  expect(status).toBe(422)
  expect(text).toContain(query.split('=')[0])
})
