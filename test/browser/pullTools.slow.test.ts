import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, keepScreenshot, seriousFaults, startApp } from './app.ts'
import { atMoment, type HandRig, handRig, openLine, openPull, studyToPull } from './pullBench.ts'

let app: AppUnderTest
let rig: HandRig | null = null
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterEach(async () => {
  await rig?.close()
  rig = null
  const { desk } = app.server
  if (desk.recording) await desk.giveUp('the test is over')
  await desk.close()
})
afterAll(() => app?.stop())

/** In place of the browser's sound and voice: what was asked of them. */
const LISTEN = `
  globalThis.heard = { pitches: [], clicks: 0, said: [], wake: 0 }
  class FakeParam { constructor(kind) { this.kind = kind } setTargetAtTime(v) { if (this.kind === 'pitch') heard.pitches.push(v) } }
  class FakeNode { connect(to) { return to } start() {} stop() {} }
  globalThis.AudioContext = class {
    constructor() { this.sampleRate = 8000; this.currentTime = 0; this.destination = new FakeNode() }
    createOscillator() { const n = new FakeNode(); n.frequency = new FakeParam('pitch'); return n }
    createGain() { const n = new FakeNode(); n.gain = new FakeParam('loudness'); return n }
    createBuffer(_, length) { return { getChannelData: () => new Float32Array(length) } }
    createBufferSource() { const n = new FakeNode(); n.start = () => { heard.clicks++ }; return n }
    close() { return Promise.resolve() }
  }
  Object.defineProperty(globalThis, 'speechSynthesis', { value: { cancel() {}, speak(u) { heard.said.push(u.text) } } })
  globalThis.SpeechSynthesisUtterance = class { constructor(text) { this.text = text } }
  Object.defineProperty(navigator, 'wakeLock', { value: { request: async () => { heard.wake++; return { release: async () => { heard.wake-- } } } } })
`
interface Heard {
  readonly pitches: number[]
  readonly clicks: number
  readonly said: string[]
  readonly wake: number
}
const heardOn = (page: Page) => page.evaluate<Heard>('heard')

test('the pitch follows the force, a part that lets go clicks once, the voice says the number; all of it only when asked', async () => {
  const study = await studyToPull(app, ['a-1'])
  rig = await handRig()
  const { page, close } = await openPull(app, study.place)
  await page.evaluate(LISTEN)
  await openLine(page, rig)
  await page.evaluate('document.activeElement.blur()')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  expect((await heardOn(page)).pitches).toEqual([])
  await page.keyboard.press('m')
  rig.rest(1)
  rig.up(25)
  await atMoment(page, 'pulling')
  // 25 of the planned 50 N: one octave above the lowest.
  await expect.poll(async () => (await heardOn(page)).pitches.at(-1)).toBeCloseTo(320, -1)
  expect((await heardOn(page)).wake).toBe(1)
  await page.keyboard.press('s')
  expect((await heardOn(page)).said.join()).toMatch(/^2[45]\.\d newton$/)
  rig.breaks()
  await atMoment(page, 'let-go')
  await expect.poll(async () => (await heardOn(page)).clicks).toBe(1)
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  await page.keyboard.press('Space')
  await atMoment(page, 'no-specimen')
  await expect.poll(async () => (await heardOn(page)).wake).toBe(0)
  await close()
})

test('a foot switch drives it with the key that it types, and giving up takes a key that is kept down', async () => {
  const study = await studyToPull(app, ['b-1'])
  rig = await handRig()
  const { page, close } = await openPull(app, study.place)
  await openLine(page, rig)
  await page.getByRole('button', { name: 'Foot switch' }).click()
  await page.keyboard.press('n')
  await page.getByText('n has a meaning of its own here').waitFor()
  await page.keyboard.press('PageDown')
  await page.getByText('The foot switch types PageDown.').waitFor()
  await page.keyboard.press('PageDown')
  await atMoment(page, 'armed')
  rig.rest(1)
  rig.up(20)
  await atMoment(page, 'pulling')
  await page.keyboard.press('PageDown')
  await page.getByText(/^Not now/).waitFor()
  await page.keyboard.press('Escape')
  await page.getByText('Keep Escape down to give up.').waitFor()
  expect(app.server.desk.recording).toBe(true)
  await page.keyboard.down('Escape')
  await page.getByText('Given up: the recording is kept, set aside.').waitFor()
  await page.keyboard.up('Escape')
  expect(app.server.desk.recording).toBe(false)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect
    .poll(async () => (await app.store.recordings.list({ specimenId: study.specimens[0]?.id ?? '' })).items)
    .toMatchObject([{ setAside: null }])
  await close()
})

test('zero is asked for in words, refused while the force moves, and taken anyway only by a press', async () => {
  const study = await studyToPull(app, ['c-1'])
  rig = await handRig()
  const { page, complaints, close } = await openPull(app, study.place)
  await openLine(page, rig)
  await page.evaluate('document.activeElement.blur()')
  await page.keyboard.press('z')
  await atMoment(page, 'asking-zero')
  await page.getByText(/will read too low by just that much/).waitFor()
  await keepScreenshot(page, 'pull-zero')
  expect(await seriousFaults(page)).toEqual([])
  await page.keyboard.press('Escape')
  await atMoment(page, 'ready')
  await page.keyboard.press('z')
  await page.keyboard.press('Space')
  await page.getByText('Zero taken: the cell read').waitFor()
  await atMoment(page, 'ready')
  // Something hangs there now: it does not arm before it is gone or was taken for nothing.
  rig.up(8)
  rig.rest(1)
  await atMoment(page, 'loaded')
  await page.keyboard.press('Space')
  await page.getByText(/^Not now/).waitFor()
  await page.keyboard.press('z')
  await atMoment(page, 'asking-zero')
  await page.keyboard.press('Space')
  await page.getByText('Zero taken: the cell read 8.').waitFor()
  await atMoment(page, 'ready')
  rig.up(20)
  await atMoment(page, 'loaded')
  await page.keyboard.press('z')
  await page.keyboard.press('Space')
  await page.getByRole('button', { name: 'Take it although it moves' }).waitFor()
  // The browser tells of the refusal too.
  expect(complaints.splice(0).join()).toContain('409')
  await close()
})

test('redo and spoiled ask for the reason, and both can be taken back', async () => {
  const study = await studyToPull(app, ['d-1', 'd-2'])
  rig = await handRig()
  const { page, close } = await openPull(app, study.place)
  await openLine(page, rig)
  await page.evaluate('document.activeElement.blur()')
  const pullOnce = async () => {
    await atMoment(page, 'armed')
    rig?.rest(1)
    rig?.up(20)
    rig?.breaks()
    await atMoment(page, 'let-go')
    await page.keyboard.press('Space')
    await atMoment(page, 'ended')
  }
  await page.keyboard.press('Space')
  await pullOnce()
  await page.keyboard.press('r')
  await page.getByLabel('Why is it pulled again?').waitFor()
  await page.keyboard.press('Enter')
  await page.getByText('Say why').waitFor()
  await page.keyboard.type('slipped')
  await page.keyboard.press('Enter')
  await pullOnce()
  const id = study.specimens[0]?.id ?? ''
  // The reading stands on the screen a moment before the recording is in the store.
  await expect
    .poll(async () => {
      const all = await app.store.recordings.list({ specimenId: id, withSetAside: true })
      return all.items.map(({ setAside }) => setAside?.why ?? null).sort()
    })
    .toEqual([null, 'slipped'])
  await page.keyboard.press('x')
  await page.getByRole('button', { name: 'glued badly' }).click()
  await page.getByText('“d-1” is left out as spoiled.').waitFor()
  await expect.poll(() => page.locator('.pull h1').textContent()).toBe('d-2')
  const statusOf = async () => (await app.store.specimens.list(study.id)).find(one => one.id === id)?.status
  expect(await statusOf()).toBe('left-out')
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(statusOf).toBe('pulled')
  await close()
})
