import { spawn } from 'node:child_process'
import { mkdtemp, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { setTimeout as after } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'
import { build } from 'vite'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { inFolder, openAt } from './stores.ts'

let program = ''
let built = ''
beforeAll(async () => {
  // Within the project, so that what it imports is found.
  built = await mkdtemp(fileURLToPath(new URL('../../node_modules/.writer-', import.meta.url)))
  program = join(built, 'writer.mjs')
  await build({
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: fileURLToPath(new URL('writer.ts', import.meta.url)),
      outDir: built,
      target: 'node20',
      rollupOptions: { output: { format: 'es', entryFileNames: 'writer.mjs' } },
    },
  })
}, 60_000)
afterAll(() => rm(built, { recursive: true, force: true }))

/** A process that saves recordings; `saved` are those that it said were kept. */
function writer(folder: string, who: string, count: number, samples: number) {
  const child = spawn(process.execPath, [program, folder, who, String(count), String(samples)], {
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let out = ''
  let err = ''
  const saved = () => out.split('\n').filter(line => /^[0-9a-z]{10}$/.test(line))
  child.stdout.on('data', (text: Buffer) => {
    out += text.toString()
  })
  child.stderr.on('data', (text: Buffer) => {
    err += text.toString()
  })
  return {
    child,
    saved,
    hasSaved: async (count: number) => {
      while (saved().length < count && child.exitCode === null) await after(1)
    },
    ended: new Promise<{ code: number | null; err: string }>(resolve => {
      child.on('close', code => resolve({ code, err }))
    }),
  }
}

const allIds = async (folder: string) => {
  const store = await openAt(folder)
  try {
    const { findings } = await store.care.verify()
    const { items } = await store.recordings.list({ limit: 1000 })
    return { findings, ids: items.map(entry => entry.id).sort() }
  } finally {
    await store.close()
  }
}

test('two programs write to one store at once, from its making on: nothing is lost', () =>
  inFolder(async folder => {
    const writers = [writer(folder, 'a', 20, 2000), writer(folder, 'b', 20, 2000)]
    for (const { ended } of writers) expect(await ended).toEqual({ code: 0, err: '' })
    const { findings, ids } = await allIds(folder)
    expect(findings).toEqual([])
    expect(ids).toEqual(writers.flatMap(w => w.saved()).sort())
    expect(ids).toHaveLength(40)
  }))

test('a program killed in the middle of saving leaves all that it acknowledged and nothing by half', () =>
  inFolder(async folder => {
    let acknowledged = 0
    for (const waitMs of [0, 8, 25]) {
      const one = writer(folder, `kill${waitMs}`, 1000, 20_000)
      await one.hasSaved(2)
      await after(waitMs)
      one.child.kill('SIGKILL')
      await one.ended
      const { findings, ids } = await allIds(folder)
      expect(findings).toEqual([])
      expect(one.saved().filter(id => !ids.includes(id))).toEqual([])
      acknowledged += one.saved().length
      // At most one a kill was kept that could not be told any more.
      expect(ids.length - acknowledged).toBeLessThanOrEqual(3)
    }
    expect(acknowledged).toBeGreaterThanOrEqual(6)
  }))
