import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { withFonts } from '../../src/publish/figure/embedFonts.ts'
import type { FigureName } from '../../src/publish/figure/figureNames.ts'
import { LOOKS, type LookName } from '../../src/publish/figure/look.ts'
import { SHAPES, type ShapeName } from '../../src/publish/figure/shape.ts'
import { studyFigure } from '../../src/publish/figure/studyFigure.ts'
import { fontFaces } from '../../src/publish/node/assets.ts'
import { svgToPng } from '../../src/publish/node/png.ts'
import type { PublishedStudy } from '../../src/publish/study/study.ts'
import { toldDemo } from '../publish/toldDemo.ts'
import { good } from '../store/stores.ts'
import { startBrowser } from './browser.ts'

/** Small pictures of how the figures look; TENTERHOOK_KEEP=1 makes them anew, to be looked at before they are kept. */
const kept = fileURLToPath(new URL('./kept/', import.meta.url))
const screenshots = fileURLToPath(new URL('../../screenshots/', import.meta.url))
const KEPT_WIDTH = 300

const FIGURES: readonly [FigureName, ShapeName, LookName][] = [
  ['pull', 'upright', 'light'],
  ['pull', 'wide', 'dark'],
  ['dots', 'square', 'print'],
  ['overlay', 'page', 'light'],
  ['weibull', 'upright', 'light'],
  ['calibration', 'upright', 'dark'],
  ['check', 'wide', 'light'],
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

test.each(FIGURES)(
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

/** Every text of a figure with its size and place on the screen. Runs in the page. */
const TEXTS = `(() => {
  const svg = document.querySelector('svg');
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  return [...svg.querySelectorAll('text')].map(text => {
    const { left, right } = text.getBoundingClientRect();
    return { text: text.textContent, px: parseFloat(getComputedStyle(text).fontSize) * scale, left, right };
  });
})()`

test('upright figures have no type under 12 px on a phone, and nothing runs off their edges', async () => {
  for (const what of ['pull', 'dots', 'overlay', 'weibull', 'calibration', 'check'] as const) {
    const page = await browser.newPage({ viewport: { width: 360, height: 1000 } })
    await page.setContent(
      `<style>body{margin:0}svg{display:block;width:100%;height:auto}</style>${withFonts(drawn(what, 'upright', 'light'), fontFaces())}`,
    )
    await page.evaluate('document.fonts.ready.then(() => true)')
    const found = (await page.evaluate(TEXTS)) as { text: string; px: number; left: number; right: number }[]
    await page.screenshot({ path: join(screenshots, `figure-${what}-360.png`) })
    expect(found.length).toBeGreaterThan(5)
    for (const one of found) expect(one.px, `${what}: ${one.text}`).toBeGreaterThanOrEqual(11.99)
    for (const one of found) expect(one.left, `${what}: ${one.text}`).toBeGreaterThanOrEqual(-0.5)
    for (const one of found) expect(one.right, `${what}: ${one.text}`).toBeLessThanOrEqual(360.5)
    await page.close()
  }
})
