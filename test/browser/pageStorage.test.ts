import { readFileSync, writeFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { jpeg } from '../logs/picture/pictures.ts'
import { type BothHomes, backendOf, startBothHomes } from './backends.ts'

/**
 * The page's own storage over the versions of its shape: what each wrote still opens. `TENTERHOOK_KEEP_STORAGE=1` writes
 * the kept copy of the present one, for a further version only; that of an older one is never changed.
 */

const VERSIONS = [1, 2] as const
const keptOf = (version: number): URL => new URL(`./kept/page-storage-${version}.json`, import.meta.url)

let homes: BothHomes
beforeAll(async () => {
  homes = await startBothHomes()
}, 240_000)
afterAll(() => homes?.stop())

/** A window with a storage of its own, in which nothing was opened yet. */
async function freshPage(): Promise<Page> {
  const context = await homes.context.browser()!.newContext()
  const page = await context.newPage()
  await page.goto(homes.address)
  await page.waitForFunction('globalThis.callBackend !== undefined')
  return page
}

const IN_PAGE = `
  const asked = request => new Promise((good, bad) => {
    request.onsuccess = () => good(request.result)
    request.onerror = () => bad(request.error)
  })
  const base64 = bytes => btoa(Array.from(bytes, byte => String.fromCharCode(byte)).join(''))
  const bytesOf = text => Uint8Array.from(atob(text), letter => letter.charCodeAt(0))
  async function packed(value) {
    if (value instanceof Blob) return { $: 'Blob', type: value.type, base64: base64(new Uint8Array(await value.arrayBuffer())) }
    if (ArrayBuffer.isView(value)) return { $: value.constructor.name, base64: base64(new Uint8Array(value.buffer, value.byteOffset, value.byteLength)) }
    if (Array.isArray(value)) return Promise.all(value.map(packed))
    if (typeof value !== 'object' || value === null) return value
    const entries = Object.entries(value).map(async ([key, one]) => [key, await packed(one)])
    return Object.fromEntries(await Promise.all(entries))
  }
  function unpacked(value) {
    if (typeof value !== 'object' || value === null) return value
    if (Array.isArray(value)) return value.map(unpacked)
    if (value.$ === 'Blob') return new Blob([bytesOf(value.base64)], { type: value.type })
    if (value.$) return new globalThis[value.$](bytesOf(value.base64).buffer)
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, unpacked(one)]))
  }`

interface KeptStore {
  readonly name: string
  readonly keyPath: string | null
  readonly indexes: readonly string[]
  readonly rows: readonly { readonly key: string; readonly value: unknown }[]
}
interface KeptStorage {
  readonly version: number
  readonly stores: readonly KeptStore[]
}

const dump = (page: Page): Promise<KeptStorage> =>
  page.evaluate(`(async () => { ${IN_PAGE}
    const db = await asked(indexedDB.open('tenterhook'))
    const stores = []
    for (const name of db.objectStoreNames) {
      const store = db.transaction(name).objectStore(name)
      const about = { name, keyPath: store.keyPath, indexes: [...store.indexNames] }
      const [keys, values] = await Promise.all([asked(store.getAllKeys()), asked(store.getAll())])
      stores.push({ ...about, rows: await Promise.all(values.map(async (value, i) => ({ key: keys[i], value: await packed(value) }))) })
    }
    const { version } = db
    db.close()
    return { version, stores }
  })()`)

const fill = (page: Page, storage: KeptStorage): Promise<void> =>
  page.evaluate(`(async () => { ${IN_PAGE}
    const storage = ${JSON.stringify(storage)}
    const opening = indexedDB.open('tenterhook', storage.version)
    opening.onupgradeneeded = () => {
      for (const { name, keyPath, indexes } of storage.stores) {
        const store = opening.result.createObjectStore(name, keyPath === null ? {} : { keyPath })
        for (const index of indexes) store.createIndex(index, index)
      }
    }
    const db = await asked(opening)
    for (const { name, keyPath, rows } of storage.stores) {
      const store = db.transaction(name, 'readwrite').objectStore(name)
      for (const { key, value } of rows)
        await asked(keyPath === null ? store.put(unpacked(value), key) : store.put(unpacked(value)))
    }
    db.close()
  })()`)

/** One of everything, as a person would have it. */
async function writeAll(page: Page): Promise<void> {
  const backend = backendOf(page, 'page')
  const study = await backend.studies.create({
    name: 'Cords',
    question: 'Which cord?',
    failureModes: ['parted'],
    equivalents: [{ name: 'a brick', plural: 'bricks', massKg: 2.3 }],
  })
  const variant = await backend.variants.create(study.id, { name: 'hemp', control: true })
  const specimen = await backend.specimens.create(study.id, {
    name: 'hemp 1',
    variantId: variant.id,
    failureMode: 'parted',
    widthMm: 4,
  })
  const rig = await backend.rigs.create({ name: 'bench', document: { cell: { capacityN: 200 } } })
  const rows = Array.from({ length: 120 }, (_, i) => {
    const forceN = i < 20 || i > 90 ? 0.02 * Math.sin(i) : ((i - 20) / 70) * 60
    return `${(i / 20).toFixed(2)},${forceN.toFixed(3)}`
  })
  await backend.recordings.keep({
    name: 'hemp-1.csv',
    bytes: new Uint8Array(new TextEncoder().encode(['time s,force N', ...rows, ''].join('\n'))),
    options: {},
    specimenId: specimen.id,
    rigId: rig.id,
  })
  const subject = { kind: 'specimen', id: specimen.id } as const
  await backend.notes.add({ subject, text: 'parted at the knot', operator: 'Ann' })
  await backend.photos.add(subject, 'knot.jpg', new Uint8Array(jpeg()), 'the knot')
  await backend.settings.set('app', { theme: 'dark' })
  const typedPeak = { value: 5, unit: 'kgf', isAtLeast: false, step: 0.1, doubt: null, who: 'Ann' } as const
  const by = (what: string) => ({ who: 'Ann', what })
  await backend.edits.apply(
    study.id,
    [{ kind: 'add', name: 'hemp 2', variant: 'hemp', fields: { typedPeak } }],
    by('a peak typed'),
  )
  const two = (await backend.studies.open(study.id)).specimens.find(({ name }) => name === 'hemp 2')!
  await backend.edits.apply(study.id, [{ kind: 'remove', specimenId: two.id }], by('hemp 2 removed'))
}

test('the present version is among those that are kept', async () => {
  const page = await freshPage()
  await writeAll(page)
  const written = await dump(page)
  if (process.env.TENTERHOOK_KEEP_STORAGE === '1')
    writeFileSync(keptOf(written.version), `${JSON.stringify(written, null, 1)}\n`)
  await page.context().close()
  expect(written.version).toBe(VERSIONS.at(-1))
  const kept = JSON.parse(readFileSync(keptOf(written.version), 'utf8')) as KeptStorage
  const shape = ({ stores }: KeptStorage) => stores.map(({ rows: _, ...store }) => store)
  expect(shape(kept)).toEqual(shape(written))
}, 120_000)

test.each(VERSIONS)(
  'what version %i of the storage wrote opens, whole',
  async version => {
    const kept = JSON.parse(readFileSync(keptOf(version), 'utf8')) as KeptStorage
    expect(kept.version).toBe(version)
    const page = await freshPage()
    await fill(page, kept)
    const backend = backendOf(page, 'page')
    const [study] = await backend.studies.list()
    const open = await backend.studies.open(study!.id)
    expect(open.study).toMatchObject({ name: 'Cords', question: 'Which cord?', failureModes: ['parted'] })
    expect(open.variants).toMatchObject([{ name: 'hemp', control: true, place: 0 }])
    expect(open.specimens).toMatchObject([
      {
        name: 'hemp 1',
        status: 'pulled',
        failureMode: 'parted',
        widthMm: 4,
        variantId: open.variants[0]?.id,
      },
    ])
    expect(open.recordings).toMatchObject([
      { name: 'hemp-1.csv', samples: 120, specimen: { name: 'hemp 1' } },
    ])
    const [entry] = open.recordings
    const { forceN } = await backend.recordings.samples(entry!.id)
    expect(Math.max(...forceN)).toBe(60)
    expect(new TextDecoder().decode(await backend.recordings.log(entry!.id))).toContain('time s,force N')
    const before = open.readings.find(({ recordingIds }) => recordingIds.length > 0)!
    expect(before.reading.results.peakForce.indicatedN).toBe(60)
    const again = await backend.readings.keep(before.specimenId!, [], before.id)
    expect(again.reading.results.peakForce.indicatedN).toBe(60)
    const subject = { kind: 'specimen', id: before.specimenId! } as const
    expect(await backend.notes.list(subject)).toMatchObject([{ text: 'parted at the knot', operator: 'Ann' }])
    const [photo] = await backend.photos.list(subject)
    const content = (await backend.photos.content(photo!.id)) as unknown as Uint8Array
    expect(content.length).toBe(photo!.bytes)
    expect(await backend.settings.all()).toEqual({ app: { theme: 'dark' } })
    expect((await backend.rigs.list()).map(({ name }) => name)).toEqual(['bench'])
    // Version 1 kept no list of changes.
    const edits = await backend.edits.list(study!.id)
    expect(edits.map(({ who, what }) => [who, what])).toEqual(
      version === 1
        ? []
        : [
            ['Ann', 'hemp 2 removed'],
            ['Ann', 'a peak typed'],
          ],
    )
    for (const { id } of edits) {
      const { reread } = await backend.edits.turn(study!.id, id, 'back')
      if (id === edits[0]!.id) expect(reread[0]?.after?.results.peakForce.valueN).toBeCloseTo(5 * 9.80665, 9)
    }
    expect((await backend.studies.open(study!.id)).specimens.map(({ name }) => name)).toEqual(['hemp 1'])
    await page.context().close()
  },
  120_000,
)

test('a storage that a newer page wrote is left alone, and said to be newer', async () => {
  const page = await freshPage()
  await fill(page, { version: 99, stores: [] })
  await expect(backendOf(page, 'page').studies.list()).rejects.toThrow('a newer Tenterhook has written')
  expect((await dump(page)).version).toBe(99)
  await page.context().close()
}, 60_000)
