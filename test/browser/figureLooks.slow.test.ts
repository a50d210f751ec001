import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { compareGroups } from '../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen } from '../../src/core/statistics/compare/specimen.ts'
import { withFonts } from '../../src/publish/figure/embedFonts.ts'
import { FIGURES, type FigureName } from '../../src/publish/figure/figureNames.ts'
import { LOOKS, type LookName } from '../../src/publish/figure/look.ts'
import { SHAPES, type ShapeName } from '../../src/publish/figure/shape.ts'
import { studyFigure } from '../../src/publish/figure/studyFigure.ts'
import { trendFigure } from '../../src/publish/figure/trendFigure.ts'
import { fontFaces } from '../../src/publish/node/assets.ts'
import { svgToPng } from '../../src/publish/node/png.ts'
import type { PublishedStudy } from '../../src/publish/study/study.ts'
import { ran } from '../cli/fakeIo.ts'
import { toldDemo } from '../publish/toldDemo.ts'
import { good } from '../store/stores.ts'
import { startBrowser } from './browser.ts'

/** Small pictures of how the figures look; TENTERHOOK_KEEP=1 makes them anew, to be looked at before they are kept. */
const kept = fileURLToPath(new URL('./kept/', import.meta.url))
const screenshots = fileURLToPath(new URL('../../screenshots/', import.meta.url))
const KEPT_WIDTH = 300

const KEPT: readonly [FigureName, ShapeName, LookName][] = [
  ['pull', 'upright', 'light'],
  ['pull', 'wide', 'dark'],
  ['dots', 'square', 'print'],
  ['overlay', 'page', 'light'],
  ['weibull', 'upright', 'light'],
  ['calibration', 'upright', 'dark'],
  ['check', 'wide', 'light'],
  ['answer', 'upright', 'print'],
  ['variant', 'wide', 'dark'],
]

let study: PublishedStudy
let browser: Browser
beforeAll(async () => {
  study = await toldDemo()
  browser = await startBrowser()
  for (const folder of [kept, screenshots]) mkdirSync(folder, { recursive: true })
}, 120_000)
afterAll(async () => browser?.close())

const drawn = (what: FigureName, shape: ShapeName, look: LookName): string =>
  good(studyFigure(study, what, { shape: SHAPES[shape], look: LOOKS[look], specimen: 'hot-melt-2' }))

/** The figure as the browser draws it at a width. */
async function seen(svg: string, width: number): Promise<Buffer> {
  const page = await browser.newPage({ viewport: { width, height: 1000 } })
  await page.setContent(
    `<style>body{margin:0}svg{display:block;width:100%;height:auto}</style>${withFonts(svg, fontFaces())}`,
  )
  await page.evaluate('document.fonts.ready.then(() => true)')
  const picture = await page.locator('svg').screenshot()
  await page.close()
  return picture
}

/** Share of the pixels of two pictures that differ plainly, as a browser decodes them; 1 where the sizes differ. */
async function unlike(a: Uint8Array, b: Uint8Array): Promise<number> {
  const page = await browser.newPage()
  const sources = [a, b].map(bytes => `data:image/png;base64,${Buffer.from(bytes).toString('base64')}`)
  const share = Number(await page.evaluate(`(${UNLIKE})(${JSON.stringify(sources)})`))
  await page.close()
  return share
}

/** Runs in the page. */
const UNLIKE = `async sources => {
  const [p, q] = await Promise.all(sources.map(async source => {
    const picture = new Image();
    picture.src = source;
    await picture.decode();
    const canvas = new OffscreenCanvas(picture.width, picture.height);
    const pen = canvas.getContext('2d');
    pen.drawImage(picture, 0, 0);
    return { width: picture.width, data: pen.getImageData(0, 0, picture.width, picture.height).data };
  }));
  if (p.width !== q.width || Math.abs(p.data.length - q.data.length) > 4 * p.width) return 1;
  const length = Math.min(p.data.length, q.data.length);
  let differ = 0;
  for (let i = 0; i < length; i += 4)
    if ([0, 1, 2].some(k => Math.abs(p.data[i + k] - q.data[i + k]) > 64)) differ++;
  return (4 * differ) / length;
}`

test.each(KEPT)(
  '%s, %s, %s looks as it is kept, in a browser and as the PNG of our own',
  async (what, shape, look) => {
    const svg = drawn(what, shape, look)
    const picture = await seen(svg, KEPT_WIDTH)
    const path = join(kept, `${what}-${shape}-${look}.png`)
    if (process.env.TENTERHOOK_KEEP === '1') writeFileSync(path, picture)
    expect(existsSync(path), 'not kept yet').toBe(true)
    expect(await unlike(picture, readFileSync(path))).toBeLessThan(0.01)
    const own = svgToPng(svg, { scale: KEPT_WIDTH / SHAPES[shape].width })
    expect(await unlike(own, readFileSync(path))).toBeLessThan(0.03)
  },
)

test('another figure is told apart', async () => {
  const other = await seen(drawn('weibull', 'upright', 'light'), KEPT_WIDTH)
  expect(await unlike(other, readFileSync(join(kept, 'pull-upright-light.png')))).toBeGreaterThan(0.03)
})

interface Word {
  readonly text: string
  readonly px: number
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
  /** Axis that it is a label of, if any. */
  readonly axis: string | null
}

/** Every text of a figure with its size and place on the screen, as the browser lays it out. Runs in the page. */
const TEXTS = `(() => {
  const svg = document.querySelector('svg');
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  return [...svg.querySelectorAll('text')].map(text => {
    const { left, right, top, bottom } = text.getBoundingClientRect();
    const px = parseFloat(getComputedStyle(text).fontSize) * scale;
    return { text: text.textContent, px, left, right, top, bottom, axis: text.closest('[data-axis]')?.dataset.axis ?? null };
  });
})()`

/** The words of a figure as they stand on a screen so wide, and how high the figure is there. */
async function wordsOf(svg: string, width: number, name: string): Promise<{ words: Word[]; height: number }> {
  const page = await browser.newPage({ viewport: { width, height: 1000 } })
  await page.setContent(
    `<style>body{margin:0}svg{display:block;width:100%;height:auto}</style>${withFonts(svg, fontFaces())}`,
  )
  await page.evaluate('document.fonts.ready.then(() => true)')
  const words = (await page.evaluate(TEXTS)) as Word[]
  const height = Number(await page.evaluate('document.querySelector("svg").getBoundingClientRect().height'))
  await page.locator('svg').screenshot({ path: join(screenshots, `${name}.png`) })
  await page.close()
  return { words, height }
}

/** The letters of a text, without the room for marks over and under them that a line of type keeps. */
const lettersOf = ({ left, right, top, bottom, px }: Word) => ({
  left: left + 1,
  right: right - 1,
  top: top + 0.2 * px,
  bottom: bottom - 0.2 * px,
})

/** What a reader would be ashamed of: words cut by the frame, words over words, a label that is no figure. */
function faultsOf(words: readonly Word[], width: number, height: number): string[] {
  const cut = words.filter(
    ({ left, right, top, bottom }) =>
      left < -0.5 || right > width + 0.5 || top < -0.5 || bottom > height + 0.5,
  )
  const over = words.flatMap((a, i) =>
    words.slice(i + 1).flatMap(b => {
      const [p, q] = [lettersOf(a), lettersOf(b)]
      const meet = p.left < q.right && q.left < p.right && p.top < q.bottom && q.top < p.bottom
      return meet ? [`“${a.text}” lies over “${b.text}”`] : []
    }),
  )
  const axes = ['x', 'y'].flatMap(axis => {
    const labels = words.filter(one => one.axis === axis && /\d/.test(one.text) && !/, /.test(one.text))
    const figures = labels.map(({ text }) => Number(text.replace('−', '-').replace(' %', '')))
    const twice = new Set(figures).size < figures.length && axis === 'x'
    return figures.some(Number.isNaN) || twice
      ? [`axis ${axis} reads ${labels.map(one => one.text).join(' | ')}`]
      : []
  })
  return [...cut.map(({ text }) => `“${text}” is cut by the frame`), ...over, ...axes]
}

const LOOKED_AT: readonly (readonly [ShapeName, LookName])[] = [
  ['wide', 'light'],
  ['wide', 'dark'],
  ['wide', 'print'],
  ['upright', 'light'],
  ['upright', 'dark'],
  ['upright', 'print'],
]

test('the rules find words cut, words over words and labels that are no figures', () => {
  const word = (text: string, left: number, axis: string | null = null): Word => ({
    ...{ text, px: 12, left, right: left + 40, top: 0, bottom: 14, axis },
  })
  expect(faultsOf([word('one', 0), word('two', 20)], 100, 20)).toEqual(['“one” lies over “two”'])
  expect(faultsOf([word('one', 80)], 100, 20)).toEqual(['“one” is cut by the frame'])
  expect(faultsOf([word('1e3', 0, 'x'), word('1.000,5', 50, 'x')], 100, 20)).toHaveLength(1)
})

describe.each(FIGURES)('%s on the screen', what => {
  test.each(LOOKED_AT)(
    '%s, %s: nothing cut, nothing over another, labels are figures',
    async (shape, look) => {
      const width = shape === 'upright' ? 360 : 960
      const { words, height } = await wordsOf(
        drawn(what, shape, look),
        width,
        `figure-${what}-${shape}-${look}`,
      )
      expect(words.length).toBeGreaterThan(5)
      expect(faultsOf(words, width, height)).toEqual([])
      // What is made for a phone is read on one.
      if (shape === 'upright')
        for (const { text, px } of words) expect(px, text).toBeGreaterThanOrEqual(11.99)
    },
  )
})

/** Strips of three widths: 30 N at 10 mm, 1.5 N for each mm more, a little up and down. */
const strips = compareGroups(
  [10, 20, 30].flatMap(widthMm =>
    [-2, -0.5, 0.5, 2].map((off, i) =>
      plainSpecimen(`${widthMm} mm ${i + 1}`, `${widthMm} mm`, 15 + 1.5 * widthMm + off),
    ),
  ),
  { quantity: 'peakForce', unit: 'N' },
)

async function powerFigureOf(...goal: string[]): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'tenterhook-power-'))
  try {
    const path = join(folder, 'power.svg')
    const words = ['plan', '--variants', 'paste,glue,stitch', '--scatter', '8%', ...goal, '--figure', path]
    expect((await ran(words)).code).toBe(0)
    return readFileSync(path, 'utf8')
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

describe('the figures of a plan and of a trend keep the same rules', () => {
  test.each(Object.keys(LOOKS) as LookName[])('trend, %s', async look => {
    const svg = trendFigure(strips, { look: LOOKS[look] })!
    const { words, height } = await wordsOf(svg, 960, `figure-trend-${look}`)
    expect(words.filter(({ axis }) => axis === 'x').length).toBeGreaterThan(2)
    expect(faultsOf(words, 960, height)).toEqual([])
  })
  test.each([
    ['difference', ['--difference', '15%']],
    ['equivalence', ['--within', '10%']],
  ])('chance of showing it, %s', async (name, goal) => {
    const { words, height } = await wordsOf(await powerFigureOf(...goal), 960, `figure-power-${name}`)
    expect(words.filter(({ axis }) => axis === 'y').length).toBeGreaterThan(4)
    expect(faultsOf(words, 960, height)).toEqual([])
  })
})
