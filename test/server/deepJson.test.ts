import { afterAll, beforeAll, expect, test } from 'vitest'
import { allRoutes } from '../../src/server/table.ts'
import { ask, type Running, running } from './running.ts'

let run: Running
beforeAll(async () => {
  run = await running()
})
afterAll(() => run.stop())

const DEPTH = 100_000
const deepArray = `${'['.repeat(DEPTH)}${']'.repeat(DEPTH)}`
const deepObject = `${'{"a":'.repeat(DEPTH)}1${'}'.repeat(DEPTH)}`

const bodies: readonly (readonly [string, string])[] = [
  ['a deep value', `{"value":${deepArray},"name":${deepArray},"document":${deepObject}}`],
  ['a deep object', deepObject],
  ['a deep array', deepArray],
  ['a damaged deep array', deepArray.slice(0, -5)],
]

const answersTo = async (body: string): Promise<[string, string, number, string][]> => {
  const all: [string, string, number, string][] = []
  for (const { method, path } of allRoutes().filter(
    route => route.method !== 'GET' && route.method !== 'DELETE',
  )) {
    const { status, text } = await ask(run.server, method, path.replace(/:[a-z]+/gi, 'none'), {
      body,
      headers: { 'content-type': 'application/json' },
    })
    all.push([method, path, status, text])
  }
  return all
}

test.each(bodies)('%s as a body is an error of every route, no fault', async (_, body) => {
  const answers = await answersTo(body)
  expect(answers.filter(([, , status]) => status < 400 || status >= 500)).toEqual([])
  expect(answers.find(([, path]) => path === '/api/settings/:name')?.[3]).toMatch(
    /nests values in values without end/,
  )
  expect(run.faults).toEqual([])
})

test.each(bodies)('%s as a log is an error', async (_, body) => {
  const { status, text } = await ask(run.server, 'POST', '/api/logs/preview?name=deep.json', {
    body,
    headers: { 'content-type': 'application/octet-stream' },
  })
  expect(status).toBe(422)
  expect(text).toMatch(/deep\.json/)
  expect(run.faults).toEqual([])
})
