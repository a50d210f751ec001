import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { unzipSync } from 'fflate'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { peakWords } from '../../src/core/reading/peakWords.ts'
import { parseSync } from '../../src/publish/sync/document.ts'
import { ran } from '../cli/fakeIo.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, startApp, type WatchedPage } from './app.ts'
import { saved } from './saved.ts'

/** What is taken away from Tell, each by one click. */

let app: AppUnderTest
let watched: WatchedPage
beforeAll(async () => {
  app = await startApp({ demo: true })
  watched = await app.open(`/study/${app.demoId}/tell`)
  await watched.page.locator('img.tell-drawn').waitFor({ timeout: 120_000 })
}, 360_000)
afterAll(async () => {
  await watched?.close()
  await app?.stop()
})

test('the package verifies with the command', async () => {
  await watched.page.getByLabel('Licence').selectOption('CC0-1.0')
  await watched.page.getByLabel('Author').fill('A maker')
  const { name, bytes } = await saved(watched.page, 'Save the data package')
  expect(name).toBe('carrier-bag-handles-an-invented-study.zip')
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-tell-'))
  try {
    const path = join(folder, name)
    await writeFile(path, bytes)
    const { code, out } = await ran(['verify', path])
    expect(out).toContain('none differs')
    expect(code).toBe(0)
    const { licenses } = JSON.parse(new TextDecoder().decode(unzipSync(bytes)['datapackage.json']))
    expect(licenses).toMatchObject([{ name: 'CC0-1.0' }])
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}, 240_000)

test('a figure is an SVG with its typeface inside, and a PNG of the shape', async () => {
  const { page } = watched
  const svg = await saved(page, 'Save as SVG')
  expect(svg.name).toMatch(/-answer\.svg$/)
  const text = svg.bytes.toString('utf8')
  expect(text).toMatch(/^<svg [^>]*>\s*<style>@font-face/)
  expect(text).not.toMatch(/https?:\/\/(?!www\.w3\.org\/2000\/svg)/)
  const png = await saved(page, 'Save as PNG')
  expect(png.bytes.subarray(1, 4).toString()).toBe('PNG')
  // PNG, 11.2.2 IHDR: width and height stand at bytes 16 and 20.
  expect([png.bytes.readUInt32BE(16), png.bytes.readUInt32BE(20)]).toEqual([1920, 1080])
}, 240_000)

test('Markdown comes with its pictures', async () => {
  const { bytes } = await saved(watched.page, 'Save as Markdown with pictures')
  const files = unzipSync(new Uint8Array(bytes))
  const text = new TextDecoder().decode(files['report.md'])
  const pictures = [...text.matchAll(/\]\((report-figures\/[^)]+\.png)\)/g)].map(match => match[1])
  expect(pictures.length).toBeGreaterThan(15)
  expect(Object.keys(files).toSorted()).toEqual([...pictures, 'report.md'].toSorted())
}, 240_000)

test('a film is heard: the pull is placed within 20 ms, captioned and laid over', async () => {
  const { page } = watched
  const [reading] = (await app.store.readings.latestOfStudy(app.demoId)).filter(
    ({ reading: { events } }) => events.filter(event => event.kind === 'partial-break').length >= 5,
  )
  const { events, recording, results } = reading!.reading
  const breaks = events.filter(event => event.kind === 'partial-break' || event.kind === 'break')
  const offsetS = 7.25
  const wav = soundOf(
    breaks.map(event => offsetS + event.atS - recording.startS),
    offsetS + recording.endS - recording.startS + 3,
  )
  await page
    .locator('input[data-film]')
    .setInputFiles({ name: 'shed.wav', mimeType: 'audio/wav', buffer: wav })
  await page.getByText('Where the recordings lie in it').waitFor({ timeout: 120_000 })
  const sync = good(
    parseSync((await saved(page, 'Save the places (JSON)')).bytes.toString(), 'shed.sync.json'),
  )
  const placed = sync.placements.find(one => one.recording.sha256 === recording.sha256)
  expect(placed?.confident).toBe(true)
  expect(Math.abs((placed?.offsetS ?? 0) - offsetS)).toBeLessThan(0.02 + (placed?.uncertaintyS ?? 0))
  const vtt = (await saved(page, 'Save as WebVTT')).bytes.toString()
  expect(vtt).toMatch(/^WEBVTT\n/)
  expect(vtt).toContain(`peak ${peakWords(results.peakForce, 'kgf')}`)
  const srt = (await saved(page, 'Save as SubRip')).bytes.toString()
  expect(srt.match(/ --> /g)).toHaveLength(vtt.match(/ --> /g)?.length ?? 0)
  const overlay = page.getByRole('region', { name: 'Overlay' })
  await overlay.getByLabel('Size').selectOption('1280x720')
  await overlay.getByLabel('Frames a second').fill('1')
  const clip = await saved(page, 'Save the overlay')
  // Matroska's and so WebM's first four bytes: the EBML header (RFC 8794).
  expect(clip.bytes.subarray(0, 4).toString('hex')).toBe('1a45dfa3')
  await overlay.getByLabel('Frames a second').fill('0.2')
  const pictures = Object.keys(unzipSync((await saved(page, 'Save as PNG pictures')).bytes))
  expect(pictures[0]).toBe('shed-000000.png')
  expect(pictures.at(-1)).toBe('times.txt')
  expect(pictures.length).toBe(Math.ceil(0.2 * sync.clip.lengthS) + 1)
  const quickTime = await saved(page, 'Save as QuickTime')
  expect(quickTime.name).toMatch(/-overlay\.mov$/)
  // QuickTime File Format Specification: the file type atom, of the brand “qt”.
  expect(quickTime.bytes.subarray(4, 10).toString('latin1')).toBe('ftypqt')
  await page.reload()
  await page.getByText('Where the recordings lie in it').waitFor({ timeout: 120_000 })
  const again = parseSync((await saved(page, 'Save the places (JSON)')).bytes.toString(), 'again.sync.json')
  expect(good(again)).toEqual(sync)
  expect((await saved(page, 'Save as WebVTT')).bytes.toString()).toBe(vtt)
}, 300_000)

test('what takes long can be stopped, and the place goes on', async () => {
  const { page } = watched
  // Hundreds of pictures: on no machine are they done before the press.
  const overlay = page.getByRole('region', { name: 'Overlay' })
  await overlay.getByLabel('Size').selectOption('1920x1080')
  await overlay.getByLabel('Frames a second').fill('30')
  await page.getByRole('button', { name: 'Save as PNG pictures' }).click()
  await page.getByRole('button', { name: 'Stop', exact: true }).click()
  await page.getByText('Stopped; nothing was saved.').waitFor({ timeout: 30_000 })
  await page.getByRole('button', { name: 'Without a film' }).click()
  const walk = page.getByRole('region', { name: 'One curve, step by step' })
  await walk.getByLabel('Size').selectOption('1280x720')
  const { name, bytes } = await saved(page, 'Save pictures and sentences')
  expect(name).toMatch(/-hot-melt-1-steps\.zip$/)
  const files = unzipSync(new Uint8Array(bytes))
  const steps = new TextDecoder().decode(files['steps.txt']).trimEnd().split('\n')
  expect(steps.length).toBeGreaterThan(4)
  expect(Object.keys(files).toSorted()).toEqual(
    [...steps.map(line => line.split('\t')[0]), 'steps.txt'].toSorted(),
  )
}, 240_000)

test('the server prints the page as PDF', async () => {
  const { name, bytes } = await saved(watched.page, 'Save as PDF')
  expect(name).toMatch(/\.pdf$/)
  expect(bytes.subarray(0, 5).toString()).toBe('%PDF-')
}, 240_000)

/** Mono WAV of 16 bits: quiet noise, with a click at each of these times. */
function soundOf(clicksS: readonly number[], lengthS: number): Buffer {
  const rateHz = 16_000
  const frames = Math.ceil(lengthS * rateHz)
  const wav = Buffer.alloc(44 + 2 * frames)
  wav.write('RIFF', 0)
  wav.writeUInt32LE(36 + 2 * frames, 4)
  wav.write('WAVEfmt ', 8)
  wav.writeUInt32LE(16, 16)
  wav.writeUInt16LE(1, 20)
  wav.writeUInt16LE(1, 22)
  wav.writeUInt32LE(rateHz, 24)
  wav.writeUInt32LE(2 * rateHz, 28)
  wav.writeUInt16LE(2, 32)
  wav.writeUInt16LE(16, 34)
  wav.write('data', 36)
  wav.writeUInt32LE(2 * frames, 40)
  let seed = 7
  const noise = () => {
    seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648
    return seed / 1_073_741_824 - 1
  }
  for (let i = 0; i < frames; i++) wav.writeInt16LE(Math.round(100 * noise()), 44 + 2 * i)
  for (const clickS of clicksS)
    for (let i = 0; i < 0.004 * rateHz; i++) {
      const at = Math.round(clickS * rateHz) + i
      wav.writeInt16LE(Math.round(20_000 * noise() * Math.exp(-i / 16)), 44 + 2 * at)
    }
  return wav
}
