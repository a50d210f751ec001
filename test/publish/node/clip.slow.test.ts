import { execFileSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'vite'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import {
  type FrameTimes,
  frameCount,
  frameTimeS,
  listedFrames,
  steadyFrames,
} from '../../../src/publish/clip/frameTimes.ts'
import { type ClipJob, clipOf } from '../../../src/publish/clip/job.ts'
import { PLATE_OPACITY } from '../../../src/publish/clip/overlayShapes.ts'
import { renderInBrowser } from '../../../src/publish/node/clipBrowser.ts'
import { clipFacts } from '../../../src/publish/node/clipFacts.ts'
import { renderByFfmpeg } from '../../../src/publish/node/clipFfmpeg.ts'
import { renderPictures } from '../../../src/publish/node/clipPictures.ts'
import { findBrowser } from '../../../src/publish/node/findBrowser.ts'
import { good } from '../../store/stores.ts'
import { demoTake } from '../clip/demoTakes.ts'

const WIDTH = 256
const HEIGHT = 144
const NTSC = { num: 30_000, den: 1001 }
let folder = ''
let pageScript: Uint8Array = new Uint8Array()
/** What is rendered is held against these: the frames as PNG pictures, and without loss as one clip. */
let pictures: Uint8Array[] = []
const LOSSLESS = 'lossless.mov'
const at = (name: string): string => join(folder, name)

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-clips-'))
  const root = fileURLToPath(new URL('../../..', import.meta.url))
  // The page of the sources as they stand, not of the last build.
  await build({
    root,
    configFile: join(root, 'vite.clip.config.ts'),
    logLevel: 'error',
    build: { outDir: folder, emptyOutDir: false, minify: false },
  })
  pageScript = readFileSync(at('page.js'))
  good(await renderPictures(clipOf(steady), { path: at('pictures') }))
  pictures = decoded(at('pictures/pictures-%06d.png'))
  good(await renderByFfmpeg(clipOf(steady), { path: at(LOSSLESS), codec: 'animation' }))
}, 120_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** From a fifth of a second before the first part lets go; the overlay is on from the first frame, or comes so much later. */
function jobOf(times: FrameTimes, laterS = 0): ClipJob {
  const take = demoTake('hot-melt-1', 0)
  const { startS, events } = take.track
  const takes = [{ ...take, place: { ...take.place, nudgeS: laterS + 0.2 - (events[0]!.atS - startS) } }]
  return { kind: 'overlay', takes, times, ground: 'plate', width: WIDTH, height: HEIGHT, dark: true }
}

const FRAMES = 10
const TIMES = steadyFrames(NTSC, (FRAMES * NTSC.den) / NTSC.num)
const steady = jobOf(TIMES)

/** Frames as an independent decoder gives them: red, green, blue, alpha. */
function decoded(path: string): Uint8Array[] {
  const webm = path.endsWith('.webm') ? ['-c:v', 'libvpx-vp9'] : []
  const bytes = execFileSync(
    'ffmpeg',
    [
      '-v',
      'error',
      ...webm,
      '-i',
      path,
      '-vsync',
      'passthrough',
      '-f',
      'rawvideo',
      '-pix_fmt',
      'rgba',
      'pipe:1',
    ],
    { maxBuffer: 1e9 },
  )
  const size = WIDTH * HEIGHT * 4
  return Array.from({ length: bytes.length / size }, (_, k) => bytes.subarray(k * size, (k + 1) * size))
}

const probedS = (path: string): number[] =>
  execFileSync('ffprobe', ['-v', 'error', '-show_entries', 'packet=pts_time', '-of', 'csv=p=0', path])
    .toString()
    .split('\n')
    .flatMap(line => (line.trim() === '' ? [] : [Number.parseFloat(line)]))

const lengthS = (path: string): number =>
  Number(
    execFileSync('ffprobe', [
      ...['-v', 'error', '-show_entries', 'stream=duration', '-of', 'csv=p=0', path],
    ]).toString(),
  )

const pixel = (frame: Uint8Array, x: number, y: number): number[] => [
  ...frame.subarray(4 * (y * WIDTH + x), 4 * (y * WIDTH + x) + 4),
]

/** Mean difference of the visible parts of two frames. */
function apart(a: Uint8Array, b: Uint8Array): number {
  let sum = 0
  for (let i = 0; i < a.length; i += 4) sum += Math.abs(a[i + 1]! * a[i + 3]! - b[i + 1]! * b[i + 3]!) / 255
  return sum
}

/** Frame k looks more like the picture of frame k than like any other that differs from it. */
function expectEachInItsPlace(frames: readonly Uint8Array[]) {
  const clip = clipOf(steady)
  expect(frames).toHaveLength(pictures.length)
  for (const [k, frame] of frames.entries()) {
    const own = apart(frame, pictures[k]!)
    for (const other of [k - 2, k - 1, k + 1, k + 2]) {
      const picture = pictures[other]
      if (picture === undefined || clip.keyAt(other) === clip.keyAt(k)) continue
      expect(own, `frame ${k} against picture ${other}`).toBeLessThan(apart(frame, picture))
    }
  }
}

/** Transparent outside the plate, as opaque as the plate within it. */
function expectAlpha(frame: Uint8Array, near: number) {
  expect(pixel(frame, 4, 4)[3]!).toBeLessThanOrEqual(near)
  expect(Math.abs(pixel(frame, 20, 128)[3]! - PLATE_OPACITY * 255)).toBeLessThanOrEqual(near + 2)
}

const nothingLeft = () => expect(readdirSync(folder).filter(name => name.endsWith('.part'))).toEqual([])

describe('a folder of pictures', () => {
  test('has one for each frame, with alpha, and their times', () => {
    expect(pictures).toHaveLength(FRAMES)
    expectAlpha(pictures[0]!, 0)
    const times = readFileSync(at('pictures/times.txt'), 'utf8').trim().split('\n').slice(1).map(Number)
    expect(times).toEqual(pictures.map((_, k) => Number(((k * 1001) / 30_000).toFixed(6))))
    // The force changes within a third of a second, and so do the pictures.
    expect(apart(pictures[0]!, pictures.at(-1)!)).toBeGreaterThan(100)
  })

  test('never goes into one that is there', async () => {
    const again = await renderPictures(clipOf(steady), { path: at('pictures') })
    expect(again.ok).toBe(false)
    expect(!again.ok && again.problems[0]?.what).toContain('already')
  })
})

describe('by ffmpeg', () => {
  test('lossless QuickTime shows the pictures as they were drawn', () => {
    const frames = decoded(at(LOSSLESS))
    expectAlpha(frames[0]!, 0)
    expectEachInItsPlace(frames)
    for (const [k, timeS] of probedS(at(LOSSLESS)).entries())
      expect(timeS).toBeCloseTo((k * 1001) / 30_000, 5)
  })

  test.each([
    ['vp9', 'film.webm'],
    ['prores', 'film.mov'],
  ] as const)('%s keeps alpha and puts each frame in its place', async (codec, name) => {
    good(await renderByFfmpeg(clipOf(steady), { path: at(name), codec }))
    const frames = decoded(at(name))
    expectAlpha(frames[0]!, 6)
    expectEachInItsPlace(frames)
  })

  test('cancelled, or with a program that fails, it leaves nothing', async () => {
    const stop = new AbortController()
    const path = at('stopped.mov')
    const onFrame = (done: number) => done === 3 && stop.abort()
    const run = {
      path,
      codec: 'animation',
      signal: stop.signal,
      onFrame: (d: number) => void onFrame(d),
    } as const
    const stopped = await renderByFfmpeg(clipOf(steady), run)
    expect(!stopped.ok && stopped.problems[0]?.what).toContain('stopped')
    const failed = await renderByFfmpeg(clipOf(steady), { path, codec: 'vp9', program: 'false' })
    expect(failed.ok).toBe(false)
    const missing = await renderByFfmpeg(clipOf(steady), { path, codec: 'vp9', program: 'no-such-program' })
    expect(!missing.ok && missing.problems[0]?.what).toContain('could not be started')
    expect(existsSync(path)).toBe(false)
    nothingLeft()
  })

  test.each([
    ['prores', 'uneven.mov'],
    ['vp9', 'uneven-ffmpeg.webm'],
  ] as const)('%s keeps uneven frame times', async (codec, name) => {
    const timesS = [0, 0.1, 0.15, 0.4]
    const listed = jobOf(good(listedFrames(timesS, 0.7, 'x')))
    good(await renderByFfmpeg(clipOf(listed), { path: at(name), codec }))
    expect(probedS(at(name))).toEqual(timesS)
    // The container of WebM says of each frame when it begins alone.
    if (codec === 'prores') expect(lengthS(at(name))).toBeCloseTo(0.7, 4)
  })
})

describe('in a browser', () => {
  const browser = findBrowser() ?? ''

  test('WebM has the alpha, every frame in its place, and its times to the millisecond of the container', async () => {
    const path = at('browser.webm')
    const told: number[] = []
    good(await renderInBrowser(steady, { path, browser, pageScript, onFrame: done => told.push(done) }))
    expect(told.at(-1)).toBe(FRAMES)
    const frames = decoded(path)
    expectAlpha(frames[0]!, 6)
    expectEachInItsPlace(frames)
    expect(probedS(path)).toEqual(pictures.map((_, k) => Number(frameTimeS(TIMES, k).toFixed(3))))
  })

  test('a picture that stays is one byte, and a minute of it is no work', async () => {
    const path = at('still.webm')
    const times = steadyFrames(NTSC, 20)
    good(await renderInBrowser(jobOf(times, 50), { path, browser, pageScript }))
    const sizes = execFileSync('ffprobe', [
      '-v',
      'error',
      '-show_entries',
      'packet=size',
      '-of',
      'csv=p=0',
      path,
    ])
    const small = sizes
      .toString()
      .trim()
      .split('\n')
      .map(Number.parseFloat)
      .filter(size => size === 1)
    // All but one a second, which stands by itself.
    expect(small).toHaveLength(frameCount(times) - 20)
    expect(probedS(path)).toHaveLength(frameCount(times))

    const last = decoded(path).at(-1)!
    expect(last.every((value, i) => i % 4 !== 3 || value <= 6)).toBe(true)
  })

  test('an encoder that leaves a frame out makes no clip', async () => {
    const lossy = `const encode = VideoEncoder.prototype.encode;
      let n = 0;
      VideoEncoder.prototype.encode = function (...given) {
        if (++n !== 3) encode.apply(this, given);
      };`
    const path = at('lossy.webm')
    const script = Buffer.concat([Buffer.from(lossy), pageScript])
    const lost = await renderInBrowser(steady, { path, browser, pageScript: script })
    expect(!lost.ok && lost.problems[0]?.what).toContain('left frames out')
    expect(!lost.ok && lost.problems[0]?.cure).toContain('--encoder ffmpeg')
    expect(existsSync(path)).toBe(false)
    nothingLeft()
  })

  test('uneven frame times are kept, and read again from the clip', async () => {
    const timesS = [0, 0.033, 0.1, 0.25, 0.3]
    const uneven = jobOf(good(listedFrames(timesS, 0.4, 'x')))
    const path = at('uneven.webm')
    good(await renderInBrowser(uneven, { path, browser, pageScript }))
    expect(probedS(path)).toEqual(timesS)
    const facts = good(await clipFacts(path))
    expect(facts).toMatchObject({ width: WIDTH, height: HEIGHT, times: { kind: 'listed', timesS } })
  })

  test('cancelled, or with a browser that is none, it leaves nothing', async () => {
    const path = at('cancelled.webm')
    const stop = new AbortController()
    const long = jobOf(steadyFrames(NTSC, 600))
    const onFrame = () => stop.abort()
    const cancelled = await renderInBrowser(long, { path, browser, pageScript, signal: stop.signal, onFrame })
    expect(!cancelled.ok && cancelled.problems[0]?.what).toContain('stopped')
    const none = await renderInBrowser(steady, { path, browser: '/bin/false', pageScript })
    expect(!none.ok && none.problems[0]?.what).toContain('ended before')
    expect(existsSync(path)).toBe(false)
    nothingLeft()
  })
})

test('a steady clip is known by its rate, whatever its container', async () => {
  const times = { kind: 'steady', rate: NTSC, count: FRAMES }
  execFileSync('ffmpeg', ['-v', 'error', '-i', at(LOSSLESS), at('steady.webm')])
  for (const name of [LOSSLESS, 'steady.webm'])
    expect(good(await clipFacts(at(name)))).toEqual({ width: WIDTH, height: HEIGHT, times })
  execFileSync('ffmpeg', ['-v', 'error', '-i', at(LOSSLESS), '-r', '25', at('old.avi')])
  expect(good(await clipFacts(at('old.avi'))).times).toMatchObject({
    kind: 'steady',
    rate: { num: 25, den: 1 },
  })
})

test('what is no video is told', async () => {
  expect(await clipFacts(at('none.mp4'))).toMatchObject({ ok: false })
  const text = await clipFacts(at('pictures/times.txt'))
  expect(!text.ok && text.problems[0]?.what).toContain('no video')
})
