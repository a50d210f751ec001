import { mkdtemp, rm } from 'node:fs/promises'
import { createServer } from 'node:net'
import { networkInterfaces, tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { EXIT } from '../../../src/cli/io.ts'
import { browserCommand } from '../../../src/cli/openBrowser.ts'
import { ran } from '../fakeIo.ts'

async function inStore(work: (store: string[], folder: string) => Promise<void>) {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-start-'))
  try {
    await work(['--store', folder], folder)
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/** Starts it, looks at it once it has greeted, and stops it as Ctrl-C does. */
async function started(words: readonly string[], look: (greeting: string) => Promise<void>) {
  let greeting = ''
  const io = {
    out: (text: string) => {
      greeting += text
    },
  }
  const running = ran(['start', '--no-open', '--port', '0', ...words], io)
  await expect
    .poll(() => greeting.includes('\n') && /stops it|"store"/.test(greeting), { timeout: 30_000 })
    .toBe(true)
  try {
    await look(greeting)
  } finally {
    process.emit('SIGINT')
  }
  return running
}

test('start greets with its address and its store, answers, and stops cleanly', () =>
  inStore(async (store, folder) => {
    let address = ''
    const { code } = await started(store, async greeting => {
      address = /http:\/\/127\.0\.0\.1:\d+\//.exec(greeting)?.[0] ?? ''
      expect(greeting).toContain(join(folder, 'tenterhook.sqlite'))
      const about = (await (await fetch(`${address}api/about`)).json()) as { store: string }
      expect(about.store).toBe(join(folder, 'tenterhook.sqlite'))
    })
    expect(code).toBe(EXIT.ok)
    await expect(fetch(address)).rejects.toThrow()
  }))

const lanThere = Object.values(networkInterfaces()).some(list =>
  list?.some(address => address.family === 'IPv4' && !address.internal),
)

test.runIf(lanThere)('with --lan it shows a code to scan', () =>
  inStore(async store => {
    const { code } = await started([...store, '--lan'], async greeting => {
      expect(greeting).toMatch(/http:\/\/[\d.]+:\d+\/join\/[\w-]{32}/)
      expect(greeting).toContain('█')
    })
    expect(code).toBe(EXIT.ok)
  }),
)

test('for a program it prints JSON', () =>
  inStore(async store => {
    await started([...store, '--json'], async greeting => {
      expect(JSON.parse(greeting)).toMatchObject({
        address: expect.stringContaining('http://127.0.0.1:'),
        screens: null,
      })
    })
  }))

test('a port that another program has is told', () =>
  inStore(async store => {
    const other = createServer()
    await new Promise<void>(resolve => other.listen(0, '127.0.0.1', resolve))
    const { port } = other.address() as { port: number }
    const { code, err } = await ran(['start', '--no-open', '--port', String(port), ...store])
    other.close()
    expect(code).toBe(EXIT.output)
    expect(err).toContain(`port ${port}`)
    expect((await ran(['start', '--port', 'x', ...store])).code).toBe(EXIT.usage)
  }))

test('the browser is opened by each system’s own means, the address as one word', () => {
  const url = 'http://127.0.0.1:8417/'
  expect(browserCommand(url, 'linux')).toEqual(['xdg-open', url])
  expect(browserCommand(url, 'darwin')).toEqual(['open', url])
  expect(browserCommand(url, 'win32').at(-1)).toBe(url)
})
