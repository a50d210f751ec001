import type { Browser, Locator, Page } from 'playwright-core'
import type { Specimen } from '../../src/store/index.ts'
import { type TcpRig, tcpRig } from '../server/tcpRig.ts'
import { type AppUnderTest, type Look, openPage, type WatchedPage } from './app.ts'

/** A study to be pulled, with its specimens in the order of its plan. */
export interface StudyToPull {
  readonly id: string
  readonly specimens: readonly Specimen[]
  readonly place: string
}

export async function sent<T>(address: string, path: string, body: unknown): Promise<T> {
  const answer = await fetch(new URL(path, address), {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  })
  if (!answer.ok) throw new Error(`${answer.status} ${await answer.text()}`)
  return (await answer.json()) as T
}

let studies = 0

/** Makes a study of a new name with `names` to pull, in that order, and a peak of 50 N planned. */
export async function studyToPull(
  { address }: Pick<AppUnderTest, 'address'>,
  names: readonly string[],
): Promise<StudyToPull> {
  const study = await sent<{ id: string }>(address, '/api/studies', {
    name: `Handles ${++studies}: ${names.join(' ')}`,
    question: 'Which holds best?',
    failureModes: ['glue', 'paper'],
    plan: { document: 'tenterhook.plan', version: 1, order: [...names], unit: 'N', scatter: { mean: 50 } },
  })
  const variant = await sent<{ id: string }>(address, `/api/studies/${study.id}/variants`, { name: 'paste' })
  const specimens: Specimen[] = []
  // Made in another order than that of the plan, which must win.
  for (const name of [...names].reverse())
    specimens.unshift(
      await sent<Specimen>(address, `/api/studies/${study.id}/specimens`, { name, variantId: variant.id }),
    )
  return { id: study.id, specimens, place: `/study/${study.id}/pull` }
}

/** A rig on the loopback that the test turns by hand, as fast as it likes: its stamps are its own. */
export interface HandRig {
  readonly tcp: TcpRig
  /** So many seconds at rest. */
  rest(forS: number): void
  /** Up to a force at 20 N a second, from the force that it is at. */
  up(toN: number): void
  /** Lets go all at once. */
  breaks(): void
  close(): Promise<void>
}

export async function handRig(): Promise<HandRig> {
  const tcp = await tcpRig()
  let atS = 0
  let atN = 0
  const go = (forS: number, force: (t: number) => number) => {
    const from = atS
    tcp.pull(from, from + forS, t => force(t - from))
    atS = Math.round((from + forS) * 100) / 100
  }
  return {
    tcp,
    rest: forS => go(forS, () => atN),
    up(toN) {
      const from = atN
      const forS = Math.abs(toN - from) / 20
      go(forS, t => from + (t / forS) * (toN - from))
      atN = toN
    },
    breaks() {
      atN = 0
      go(2, () => 0)
    },
    close: () => tcp.close(),
  }
}

/** Opens the rig's line by the form of the place, as a person would. */
export async function openLine(page: Page, rig: HandRig): Promise<void> {
  await page.getByLabel('Network line').check()
  await page.getByLabel('Address').fill(rig.tcp.source.host)
  await page.getByLabel('Port number').fill(`${rig.tcp.source.port}`)
  await page.getByLabel(/^Capacity of the cell/).fill('100')
  await page.getByRole('button', { name: 'Open the line' }).last().click()
  await rig.tcp.connected()
  rig.rest(3)
  await atMoment(page, 'ready')
}

export const atMoment = (page: Page, moment: string) =>
  page.locator(`.pull[data-moment="${moment}"]`).waitFor({ timeout: 20_000 })

/** The place, on a computer without serial ports: which ones this one has is not the test's. */
export async function openPull(
  app: Pick<AppUnderTest, 'open' | 'address'>,
  place: string,
  look: Partial<Look> = {},
): Promise<WatchedPage> {
  const watched = await app.open('/settings', look)
  await watched.page.route('**/api/ports', route => route.fulfill({ json: { ports: [], problems: [] } }))
  await watched.page.goto(`${app.address}#${place}`)
  return watched
}

/** The first specimen of two in mid-pull, 35 N and rising, on a window of its own. */
export async function inMidPull(
  server: Pick<AppUnderTest, 'address'>,
  browser: Browser,
): Promise<{ readonly study: StudyToPull; readonly rig: HandRig; readonly watched: WatchedPage }> {
  const study = await studyToPull(server, ['paste-1', 'paste-2'])
  const rig = await handRig()
  const { address } = server
  const open: AppUnderTest['open'] = (place = '/', look = {}) =>
    openPage(browser, `${address}#${place}`, look)
  const watched = await openPull({ open, address }, study.place)
  const { page } = watched
  await openLine(page, rig)
  await page.evaluate('document.activeElement.blur()')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  rig.rest(1)
  rig.up(35)
  await atMoment(page, 'pulling')
  return { study, rig, watched }
}

/** The large figure. */
export const forceOn = async (page: Page): Promise<number> =>
  Number((await page.locator('.pull-figure').textContent())?.replace('−', '-'))

/** The value of a figure such as `Peak force: 41.9 ± 0.1N`. */
export const peakOf = async (figure: Locator): Promise<number> =>
  Number(/([\d.]+)\s[±(]/.exec((await figure.textContent()) ?? '')?.[1])
