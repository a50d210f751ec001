import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { networkInterfaces, tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import WebSocket from 'ws'
import { answerSchema } from '../../src/server/answerSchemas.ts'
import type { ViewerMessage } from '../../src/server/desk/liveMessages.ts'
import { allRoutes } from '../../src/server/table.ts'
import { type Asked, ask, json, type Running, running } from './running.ts'

const record = (name: string) => readFile(new URL(`../records/${name}`, import.meta.url))

let run: Running
let web = ''
beforeAll(async () => {
  web = await mkdtemp(join(tmpdir(), 'tenterhook-web-'))
  await mkdir(join(web, 'assets'))
  await writeFile(join(web, 'index.html'), '<!doctype html><title>the app</title>')
  await writeFile(join(web, 'assets', 'app-1a2b.js'), 'export {}')
  run = await running({ webFolder: web })
})
afterAll(async () => {
  await run.stop()
  await rm(web, { recursive: true, force: true })
})

type Options = Parameters<typeof ask>[3]
const call = (method: string, path: string, options: Options = {}) => ask(run.server, method, path, options)
async function good<T>(asked: Promise<Asked>): Promise<T> {
  const { status, text } = await asked
  if (status !== 200) throw new Error(`${status} ${text}`)
  return JSON.parse(text) as T
}

describe('who is answered', () => {
  const port = () => run.server.port
  test.each([
    ['its own address', () => `127.0.0.1:${port()}`, 200],
    ['localhost', () => `localhost:${port()}`, 200],
    ['the same in capitals', () => `LOCALHOST:${port()}`, 200],
    ['a name that was made to point here', () => `rebound.example:${port()}`, 421],
    ['a name that only begins like ours', () => `127.0.0.1.example:${port()}`, 421],
    ['another port', () => '127.0.0.1:1', 421],
    ['no port', () => '127.0.0.1', 421],
  ])('by Host: %s', async (_, host, status) => {
    expect((await call('GET', '/api/studies', { headers: { host: host() } })).status).toBe(status)
    expect((await call('GET', '/', { headers: { host: host() } })).status).toBe(status)
  })

  test.each([
    ['its own page', () => ({ origin: `http://localhost:${port()}`, 'sec-fetch-site': 'same-origin' }), 200],
    ['another site', () => ({ origin: 'https://elsewhere.example' }), 403],
    ['an opaque origin', () => ({ origin: 'null' }), 403],
    ['another port of this computer', () => ({ origin: 'http://localhost:1' }), 403],
    ['the same over another scheme', () => ({ origin: `https://localhost:${port()}` }), 403],
    [
      'a picture on another site',
      () => ({ 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'no-cors' }),
      403,
    ],
    ['another service of this computer', () => ({ 'sec-fetch-site': 'same-site' }), 403],
  ])('by Origin: %s', async (_, headers, status) => {
    expect((await call('GET', '/api/studies', { headers: headers() })).status).toBe(status)
  })

  test('a link from elsewhere may open the page, and nothing else', async () => {
    const headers = { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'navigate', accept: 'text/html' }
    expect((await call('GET', '/', { headers })).status).toBe(200)
    expect((await call('GET', '/api/studies', { headers })).status).toBe(403)
  })

  test('a form of another site cannot be sent here, even without Origin', async () => {
    for (const type of [
      'application/x-www-form-urlencoded',
      'text/plain',
      'multipart/form-data; boundary=x',
    ]) {
      const { status } = await call('POST', '/api/studies', {
        headers: { 'content-type': type },
        body: '{"name":"forged"}',
      })
      expect(status).toBe(415)
    }
    expect(await good<unknown[]>(call('GET', '/api/studies'))).toEqual([])
  })

  test('a socket from another site is refused', async () => {
    const socket = new WebSocket(`ws://127.0.0.1:${port()}/api/live`, { origin: 'https://elsewhere.example' })
    const status = await new Promise(resolve => {
      socket.on('unexpected-response', (_, answer) => resolve(answer.statusCode))
      socket.on('open', () => resolve('open'))
      socket.on('error', () => {})
    })
    expect(status).toBe(403)
  })
})

describe('what is sent with every answer', () => {
  test.each(['/', '/api/studies', '/api/nothing', '/api/docs', '/assets/app-1a2b.js'])('%s', async path => {
    const { headers } = await call('GET', path)
    expect(headers['content-security-policy']).toContain("default-src 'none'")
    expect(headers['content-security-policy']).not.toContain('unsafe')
    expect(headers['x-content-type-options']).toBe('nosniff')
    expect(headers['x-frame-options']).toBe('DENY')
    expect(headers['referrer-policy']).toBe('no-referrer')
    expect(headers['access-control-allow-origin']).toBeUndefined()
  })
})

describe('the app', () => {
  test('its page for every address of its own, its files, and nothing outside', async () => {
    const page = { headers: { accept: 'text/html' } }
    expect((await call('GET', '/')).text).toContain('the app')
    expect((await call('GET', '/study/abc/read', page)).text).toContain('the app')
    expect((await call('GET', '/assets/app-1a2b.js')).headers['cache-control']).toContain('immutable')
    expect((await call('GET', '/missing.js')).status).toBe(404)
  })
  test.each([
    '/../package.json',
    '/..%2f..%2fpackage.json',
    '/%2e%2e/%2e%2e/etc/passwd',
    '/assets/../../store/tenterhook.sqlite',
    '/assets/..%5c..%5cpackage.json',
    '//etc/passwd',
    '/%00',
    '/api/../../etc/passwd',
    '/api/photos/..%2f..%2fetc%2fpasswd',
  ])('no way out: %s', async path => {
    const { status, text } = await call('GET', path)
    expect([400, 403, 404]).toContain(status)
    expect(text).not.toContain('root:')
    expect(text).not.toContain('"tenterhook"')
  })
})

describe('what is too much or makes no sense', () => {
  test('a body over its limit', async () => {
    const { status, text } = await call(
      'POST',
      '/api/studies',
      json({ name: 'x', question: 'y'.repeat(1_100_000) }),
    )
    expect(status).toBe(413)
    expect(JSON.parse(text).problems[0].what).toContain('larger')
    const photo = {
      headers: { 'content-type': 'application/octet-stream' },
      body: new Uint8Array(21 * 1024 * 1024),
    }
    const sent = await call('POST', '/api/photos?kind=study&id=x&name=p.jpg', photo).catch(() => ({
      status: 413,
    }))
    expect(sent.status).toBe(413)
  })
  test('faults of form are told by field, all at once, without a trace', async () => {
    const { status, text } = await call(
      'POST',
      '/api/studies',
      json({ name: '', elements: -1, colour: 'red' }),
    )
    expect(status).toBe(422)
    expect(
      JSON.parse(text)
        .problems.map((p: { where: string }) => p.where)
        .sort(),
    ).toEqual(['body', 'body.elements', 'body.name'])
    expect(text).not.toMatch(/at .*\.ts:|node_modules/)
  })
  test('broken JSON, a poisoned prototype, an unknown address, another method', async () => {
    const broken = { headers: { 'content-type': 'application/json' }, body: '{"name":' }
    expect((await call('POST', '/api/studies', broken)).status).toBe(400)
    const poisoned = {
      headers: { 'content-type': 'application/json' },
      body: '{"name":"x","__proto__":{"a":1}}',
    }
    expect((await call('POST', '/api/studies', poisoned)).status).toBe(400)
    expect((await call('GET', '/api/nothing')).status).toBe(404)
    expect((await call('PUT', '/api/studies')).status).toBe(404)
  })
  test('a fault of ours gives a number, no trace', async () => {
    const list = run.store.studies.list
    Object.assign(run.store.studies, {
      list: async () => {
        throw new Error('secret /home/user/path')
      },
    })
    const { status, text } = await call('GET', '/api/studies')
    Object.assign(run.store.studies, { list })
    expect(status).toBe(500)
    expect(text).not.toContain('secret')
    expect(text).toMatch(/number [0-9a-f]{8}/)
    expect(String(run.faults.at(-1))).toContain('secret')
  })
})

test('a study from its question to its comparison', async () => {
  const study = await good<{ id: string }>(
    call('POST', '/api/studies', json({ name: 'Rods', failureModes: ['snap'] })),
  )
  const variants = await Promise.all(
    ['glass', 'wood'].map(name =>
      good<{ id: string }>(call('POST', `/api/studies/${study.id}/variants`, json({ name }))),
    ),
  )
  for (const [i, name] of ['brittle-1.csv', 'brittle-2.csv', 'soften-1.csv', 'soften-2.csv'].entries()) {
    const specimen = await good<{ id: string }>(
      call(
        'POST',
        `/api/studies/${study.id}/specimens`,
        json({ name, variantId: variants[i >> 1]?.id, failureMode: 'snap' }),
      ),
    )
    const log = { headers: { 'content-type': 'application/octet-stream' }, body: await record(name) }
    const preview = await good<{
      samples: number
      known: unknown
      sha256: string
      curve: { timeS: number[] }
    }>(call('POST', `/api/logs/preview?name=${name}`, log))
    expect(preview.known).toBeNull()
    expect(preview.curve.timeS.length).toBeGreaterThan(40)
    const saved = await good<{
      entry: { id: string; sha256: string; samples: number }
      isNew: boolean
      reading: { id: string }
    }>(call('POST', `/api/recordings?name=${name}&specimenId=${specimen.id}`, log))
    expect(saved).toMatchObject({ isNew: true, entry: { sha256: preview.sha256, samples: preview.samples } })
    expect(saved.reading).not.toBeNull()
    const again = await good<{ known: { id: string } }>(call('POST', `/api/logs/preview?name=${name}`, log))
    expect(again.known.id).toBe(saved.entry.id)
    const exported = await call('GET', `/api/recordings/${saved.entry.id}/export?as=log`)
    expect(exported.bytes.equals(log.body)).toBe(true)
    expect(exported.headers['content-disposition']).toContain('attachment')
    const csv = await call('GET', `/api/recordings/${saved.entry.id}/export?as=csv`)
    expect(csv.text.trimEnd().split('\n')).toHaveLength(preview.samples + 1)
    const curve = await good<{ timeS: number[] }>(
      call('GET', `/api/recordings/${saved.entry.id}/curve?pixels=100`),
    )
    expect(curve.timeS.length).toBeLessThan(500)
  }
  const comparison = await good<{ groups: { name: string; n: number }[] }>(
    call('GET', `/api/studies/${study.id}/comparison`),
  )
  expect(comparison.groups).toMatchObject([
    { name: 'glass', n: 2 },
    { name: 'wood', n: 2 },
  ])
  const whole = await good<{ specimens: { id: string }[]; readings: unknown[] }>(
    call('GET', `/api/studies/${study.id}`),
  )
  expect(whole.readings).toHaveLength(4)
  const id = whole.specimens[0]?.id
  const adjustment = {
    id: 'a1',
    who: 'Kim',
    when: '2026-01-02T03:04:05Z',
    why: 'counted',
    kind: 'sensitivity',
    factor: 2,
  }
  const body = json({ adjustments: [adjustment] })
  expect(await good(call('POST', `/api/specimens/${id}/reading/preview`, body))).toMatchObject({
    document: 'tenterhook.reading',
  })
  expect(await good(call('POST', `/api/specimens/${id}/reading`, body))).toMatchObject({
    adjustments: [adjustment],
  })
  const history = await good<{ readings: unknown[] }>(call('GET', `/api/specimens/${id}`))
  expect(history.readings).toHaveLength(2)
  const list = await good<{ items: { id: string }[] }>(call('GET', '/api/recordings?search=soften'))
  expect(list.items).toHaveLength(2)
  const aside = json({ why: 'wrong file' })
  expect(await good(call('POST', `/api/recordings/${list.items[0]?.id}/set-aside`, aside))).toMatchObject({
    setAside: { why: 'wrong file' },
  })
  expect((await call('DELETE', `/api/studies/${study.id}`)).status).toBe(409)
})

test('what cannot be understood of a log is told, and nothing is kept', async () => {
  const letter = {
    headers: { 'content-type': 'application/octet-stream' },
    body: 'Dear rig,\n<script>alert(1)</script>\n',
  }
  const { status, text, headers } = await call('POST', '/api/logs/preview?name=letter.txt', letter)
  expect(status).toBe(422)
  expect(headers['content-type']).toContain('application/json')
  expect(JSON.parse(text).problems[0].where).toContain('letter.txt')
})

test('the description names every route, loads nothing from outside, and is OpenAPI 3.1', async () => {
  const description = await good<{
    openapi: string
    paths: Record<string, Record<string, unknown>>
    components: { schemas: Record<string, object> }
  }>(call('GET', '/api/openapi.json'))
  expect(description.openapi).toBe('3.1.0')
  expect(description.paths['/api/studies/{id}/variants']?.post).toBeDefined()
  // Every answer that is no file has a schema, and each that is named is there.
  const bare = allRoutes().filter(
    ({ answers }) => !/^a (file|zip|picture|block)$/.test(answers) && answerSchema(answers) === null,
  )
  expect(bare.map(({ path, answers }) => `${path}: ${answers}`)).toEqual([])
  const text = JSON.stringify(description)
  const named = [...text.matchAll(/"#\/components\/schemas\/(\w+)"/g)].map(([, name]) => name ?? '')
  expect(new Set(named).size).toBeGreaterThan(14)
  for (const name of named) expect(Object.keys(description.components.schemas)).toContain(name)
  expect(description.paths['/api/line/zero']?.post).toMatchObject({
    requestBody: { required: false },
    responses: {
      200: { content: { 'application/json': { schema: { $ref: '#/components/schemas/ZeroTaken' } } } },
    },
  })
  const ids = Object.values(description.paths).flatMap(path =>
    Object.values(path).map(o => (o as { operationId: string }).operationId),
  )
  expect(new Set(ids).size).toBe(ids.length)
  const page = (await call('GET', '/api/docs')).text
  for (const path of Object.keys(description.paths)) expect(page).toContain(path.replace(/\{(\w+)\}/g, ':$1'))
  expect(page).not.toMatch(/https?:\/\//)
})

test('the live stream: open the pretend rig, record, and find it in the store', async () => {
  const socket = new WebSocket(`ws://127.0.0.1:${run.server.port}/api/live`)
  const seen: ViewerMessage[] = []
  socket.on('message', data => seen.push(JSON.parse(String(data)) as ViewerMessage))
  await new Promise(resolve => socket.once('open', resolve))
  const line = json({ source: { kind: 'pretend', pull: 'brittle', seed: 3, speed: 2 } })
  expect(await good(call('POST', '/api/line', line))).toMatchObject({ open: { kind: 'pretend' } })
  expect((await call('POST', '/api/line', line)).status).toBe(409)
  const plan = json({ about: { study: 'Live', variant: null, specimen: 'one', operator: 'Kim' } })
  expect(await good(call('POST', '/api/line/start', plan))).toMatchObject({ phase: 'recording' })
  expect((await call('DELETE', '/api/line')).status).toBe(409)
  await expect
    .poll(() => seen.filter(message => message.kind === 'samples').length, { timeout: 20_000 })
    .toBeGreaterThan(3)
  const { recordingId } = await good<{ recordingId: string }>(call('POST', '/api/line/finish'))
  const entry = await good<{ entry: { source: string; samples: number; specimen: { name: string } } }>(
    call('GET', `/api/recordings/${recordingId}`),
  )
  expect(entry.entry).toMatchObject({ source: 'live', specimen: { name: 'one' } })
  expect(entry.entry.samples).toBeGreaterThan(0)
  await expect.poll(() => seen.some(message => message.kind === 'stored')).toBe(true)
  expect(seen[0]?.kind).toBe('snapshot')
  expect((await run.store.care.verify()).findings).toEqual([])
  await call('DELETE', '/api/line')
  socket.close()
})

const lanThere = Object.values(networkInterfaces()).some(list =>
  list?.some(address => address.family === 'IPv4' && !address.internal),
)

describe.runIf(lanThere)('a second screen', () => {
  let lan: Running
  let screen = { host: '', port: 0 }
  let join = ''
  beforeAll(async () => {
    lan = await running({ lan: true, webFolder: web })
    const link = new URL(lan.server.screenLinks()?.[0] ?? '')
    screen = { host: link.hostname, port: Number(link.port) }
    join = link.pathname
  })
  afterAll(() => lan.stop())
  const asScreen = (method: string, path: string, headers: Record<string, string> = {}, body?: string) =>
    ask(screen, method, path, { headers, ...(body === undefined ? {} : { body }) })

  test('is let in once by a code, looks on, and can move nothing', async () => {
    expect((await asScreen('GET', '/')).status).toBe(401)
    expect((await asScreen('GET', '/api/line')).status).toBe(401)
    expect((await asScreen('GET', `${join}x`)).status).toBe(403)
    const letIn = await asScreen('GET', join)
    expect(letIn.status).toBe(303)
    const setCookie = String(letIn.headers['set-cookie'])
    expect(setCookie).toContain('HttpOnly')
    expect((await asScreen('GET', join)).status).toBe(403)
    const cookie = setCookie.split(';')[0] ?? ''
    expect((await asScreen('GET', '/api/line', { cookie })).status).toBe(200)
    expect((await asScreen('GET', '/', { cookie })).text).toContain('the app')
    expect(
      (await asScreen('GET', '/api/line', { cookie, host: `rebound.example:${screen.port}` })).status,
    ).toBe(421)
    const body = JSON.stringify({ about: { study: null, variant: null, specimen: null, operator: null } })
    for (const path of ['arm', 'start', 'zero', 'finish', 'give-up', 'note', 'disarm'])
      expect(
        (await asScreen('POST', `/api/line/${path}`, { cookie, 'content-type': 'application/json' }, body))
          .status,
      ).toBe(404)
    for (const [method, path] of [
      ['POST', '/api/line'],
      ['DELETE', '/api/line'],
      ['POST', '/api/studies'],
      ['GET', '/api/studies'],
      ['GET', '/api/settings'],
      ['POST', '/api/screens'],
    ] as const)
      expect((await asScreen(method, path, { cookie })).status, path).toBe(404)
  })

  test('gets the live stream with its pass only', async () => {
    const url = `ws://${screen.host}:${screen.port}/api/live`
    const opened = (headers: Record<string, string>) =>
      new Promise<string>(resolve => {
        const socket = new WebSocket(url, { headers })
        socket.on('message', data => {
          resolve((JSON.parse(String(data)) as ViewerMessage).kind)
          socket.close()
        })
        socket.on('unexpected-response', (_, answer) => resolve(String(answer.statusCode)))
        socket.on('error', () => {})
      })
    expect(await opened({})).toBe('401')
    const code = new URL(lan.server.screenLinks()?.[0] ?? '').pathname
    const cookie = String((await asScreen('GET', code)).headers['set-cookie']).split(';')[0] ?? ''
    expect(await opened({ cookie })).toBe('snapshot')
  })

  test('the bench itself answers on this computer alone', async () => {
    await expect(ask({ host: screen.host, port: lan.server.port }, 'GET', '/api/studies')).rejects.toThrow(
      'ECONNREFUSED',
    )
  })
})
