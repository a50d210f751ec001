import * as fc from 'fast-check'
import { unzipSync, zipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { ZIP_LIMITS } from '../../../../src/publish/package/zip/directory.ts'
import { openZip, zipInMemory } from '../../../../src/publish/package/zip/openZip.ts'
import { wholeZip } from '../../../../src/publish/package/zip/zipOf.ts'
import { zipLimits } from '../../../../src/server/zipLimits.ts'
import { good } from '../../../store/stores.ts'
import { streamOf } from '../sources.ts'

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text)
const MADE_AT = '2026-05-04T14:20:00Z'

const zipped = (files: Record<string, Uint8Array>): Promise<Uint8Array> =>
  wholeZip(streamOf(new Map(Object.entries(files))), MADE_AT)

const opened = (bytes: Uint8Array, limits = ZIP_LIMITS) => openZip(zipInMemory('a.zip', bytes), limits)

/** What is said of a zip that must not open. */
async function refusal(bytes: Uint8Array, limits = ZIP_LIMITS): Promise<string> {
  const outcome = await opened(bytes, limits)
  return outcome.ok ? 'it opened' : outcome.problems.map(({ where, what }) => `${where}: ${what}`).join('\n')
}

/** Offset of the n-th entry of the list of files (APPNOTE.TXT 4.3.12). */
function directoryEntry(bytes: Uint8Array, n: number): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length)
  let at = view.getUint32(bytes.length - 6, true)
  for (; n > 0; n--)
    at += 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true)
  return at
}

/** A field of an entry of the list of files, changed. */
function changed(bytes: Uint8Array, n: number, field: number, value: number, size: 2 | 4 = 2): Uint8Array {
  const copy = bytes.slice()
  const view = new DataView(copy.buffer)
  const at = directoryEntry(copy, n) + field
  if (size === 2) view.setUint16(at, value, true)
  else view.setUint32(at, value, true)
  return copy
}

describe('a zip of ours', () => {
  test('opens in another reader with the same files', async () => {
    const files = {
      'README.md': bytesOf('read me'),
      'clean/a.parquet': bytesOf('PAR1'),
      'empty.csv': bytesOf(''),
    }
    expect(unzipSync(await zipped(files))).toEqual(files)
  })

  test('gives back what went in, for any bytes', async () => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 5000 }), fc.boolean(), async (content, packs) => {
        const path = packs ? 'a.csv' : 'a.png'
        const source = good(await opened(await zipped({ [path]: content })))
        expect(source.paths).toEqual([path])
        expect(good(await source.bytes(path))).toEqual(content)
      }),
      { numRuns: 50 },
    )
  })

  test('is the same whatever the time zone is', async () => {
    const before = process.env.TZ
    try {
      process.env.TZ = 'Pacific/Auckland'
      const there = await zipped({ 'a.csv': bytesOf('1') })
      process.env.TZ = 'America/Los_Angeles'
      expect(await zipped({ 'a.csv': bytesOf('1') })).toEqual(there)
    } finally {
      process.env.TZ = before
    }
  })
})

describe('a zip from elsewhere', () => {
  test.each([
    ['../evil.csv', 'leaves its folder'],
    ['raw/../../evil.csv', 'leaves its folder'],
    ['/etc/evil', 'begins at the root of the disk'],
    ['C:/evil', 'begins with a drive'],
    ['raw\\evil.csv', 'holds a backslash'],
    ['raw//evil.csv', 'has an empty part'],
    ['./evil.csv', 'leaves its folder'],
    ['raw/e\nvil', 'holds a control character'],
  ])('may not hold the path %j', async (path, why) => {
    expect(await refusal(zipSync({ [path]: bytesOf('x') }))).toContain(why)
  })

  test('may not hold a file twice, nor one that some systems take for the same', async () => {
    expect(await refusal(zipSync({ 'a.csv': bytesOf('x'), 'A.csv': bytesOf('y') }))).toContain('there twice')
    expect(await refusal(zipSync({ 'é.csv': bytesOf('x'), 'e\u0301.csv': bytesOf('y') }))).toContain(
      'there twice',
    )
    expect(await refusal(zipSync({ a: bytesOf('x'), 'A/b': bytesOf('y') }))).toContain('a file and a folder')
  })

  test('may not hold a link, an encrypted file or an unknown packing', async () => {
    const link = zipSync({ 'a.csv': [bytesOf('/etc/passwd'), { os: 3, attrs: 0o120777 << 16 }] })
    expect(await refusal(link)).toContain('a symbolic link')
    const plain = zipSync({ 'a.csv': bytesOf('x'.repeat(100)) })
    expect(await refusal(changed(plain, 0, 8, 1))).toContain('it is encrypted')
    expect(await refusal(changed(plain, 0, 10, 12))).toContain('packed by method 12')
  })

  test('may not fill the disk', async () => {
    const zeros = zipSync({ 'a.csv': new Uint8Array(4 << 20), 'b.csv': new Uint8Array(4 << 20) })
    const strict = { ...ZIP_LIMITS, bytes: 6 << 20 }
    expect(await refusal(zeros, strict)).toContain('it unpacks to')
    expect(await refusal(zeros, { ...ZIP_LIMITS, ratioFromBytes: 1 << 20 })).toContain('times its size')
    expect(await refusal(zeros, { ...ZIP_LIMITS, entries: 1 })).toContain('2 entries')
    expect((await opened(zeros)).ok).toBe(true)
  })

  test('may not hide one file made to fill a disk among others, nor one that memory has no room for', async () => {
    const noise = new Uint8Array(1 << 20).map((_, i) => (i * 2654435761) >>> 13)
    const hidden = zipSync({ 'a.csv': new Uint8Array(4 << 20), 'noise.bin': noise })
    const strict = { ...ZIP_LIMITS, fileRatioFromBytes: 1 << 20 }
    expect(await refusal(hidden, strict)).toMatch(/a\.csv: .*times its size, as a file made to fill a disk/)
    expect((await opened(hidden)).ok).toBe(true)
    expect(await refusal(hidden, { ...ZIP_LIMITS, fileBytes: 2 << 20 })).toContain('that there is memory for')
    expect(zipLimits(1 << 30).fileBytes).toBe(1 << 28)
    expect(zipLimits(64 * 2 ** 30).fileBytes).toBe(ZIP_LIMITS.fileBytes)
  })

  test('is unpacked no further than it claims', async () => {
    const zeros = zipSync({ 'a.csv': new Uint8Array(4 << 20) })
    expect(await refusal(changed(zeros, 0, 24, 0xff_00_00_00, 4))).toContain('more bytes than it can hold')
    const source = good(await opened(changed(zeros, 0, 24, 1000, 4)))
    const less = await source.bytes('a.csv')
    expect(less.ok ? less.value.length : less.problems[0]?.what).toContain('checksum')
  })

  test('may not hold files that lie over one another', async () => {
    const two = zipSync({ 'a.csv': bytesOf('one'), 'b.csv': bytesOf('two') }, { level: 0 })
    expect(await refusal(changed(two, 1, 42, 0, 4))).toContain('lies over another')
    expect(await refusal(changed(two, 1, 42, 0x7f_ff_ff_ff, 4))).toContain('past the end')
  })

  test('whose list and files contradict each other is damaged', async () => {
    const two = zipSync({ 'a.csv': bytesOf('one'), 'b.csv': bytesOf('two') }, { level: 0 })
    const renamed = two.slice()
    renamed[30] = 'c'.charCodeAt(0)
    const a = await good(await opened(renamed)).bytes('a.csv')
    expect(a.ok ? '' : a.problems[0]?.what).toContain('contradict')
    const flipped = two.slice()
    flipped[35] = 'O'.charCodeAt(0)
    const b = await good(await opened(flipped)).bytes('a.csv')
    expect(b.ok ? '' : b.problems[0]?.what).toContain('checksum')
  })

  test('that is cut off, empty or no zip is told so', async () => {
    const whole = zipSync({ 'a.csv': bytesOf('x') })
    for (const length of [0, 10, whole.length - 1])
      expect(await refusal(whole.subarray(0, length))).toContain('its end is missing')
    expect(await refusal(bytesOf('time,force\n0,1\n'))).toContain('no zip')
  })

  test('never throws, whatever its bytes', async () => {
    const whole = await zipped({
      'a.csv': bytesOf('time,force\n0,1\n'.repeat(40)),
      'raw/b.png': bytesOf('png'),
    })
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat(whole.length - 1), fc.nat(255)), { minLength: 1, maxLength: 6 }),
        fc.nat(whole.length),
        async (flips, length) => {
          const bytes = whole.slice(0, length > 20 ? whole.length : length)
          for (const [at, value] of flips) if (at < bytes.length) bytes[at] = value
          const source = await opened(bytes)
          if (source.ok) for (const path of source.value.paths) await source.value.bytes(path)
        },
      ),
      { numRuns: 300 },
    )
  })

  test('may hold folders and what desktops leave behind', async () => {
    const zip = zipSync({
      'handles/': new Uint8Array(0),
      'handles/a.csv': bytesOf('x'),
      '__MACOSX/handles/._a.csv': bytesOf('y'),
      'handles/.DS_Store': bytesOf('z'),
    })
    expect(good(await opened(zip)).paths).toEqual(['handles/a.csv'])
  })
})
