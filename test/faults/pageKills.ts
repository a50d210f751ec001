import {
  addSpecimen,
  newStudy,
  openPort,
  type PageBench,
  pageBench,
  toPlace,
  waitForKept,
} from '../browser/pageBench.ts'
import { SERIAL_STUB } from '../browser/serialStub.ts'

/** What was said so long before the browser is killed must be there when the page is opened again. */
const WITHIN_MS = 200

export interface Killed {
  readonly kills: number
  /** Samples that had to be there, and were not. */
  readonly lost: number
  /** Samples that had to be there. */
  readonly due: number
  /** Recordings that did not come back. */
  readonly gone: number
}

/**
 * Kills the browser (SIGKILL to its first process) in the middle of so many recordings of the one HTML file,
 * each at another moment, and looks what is there when the page is opened again. The serial port is a stub of
 * the browser’s interface whose worker says the lines.
 */
export async function killPages(
  kills: number,
  linesPerS: number,
  tell = (_: string): void => {},
): Promise<Killed> {
  let bench: PageBench = await pageBench({ script: SERIAL_STUB })
  let lost = 0
  let due = 0
  let gone = 0
  try {
    await newStudy(bench.page, 'Kills', ['reef'])
    const study = bench.page.url()
    for (let kill = 0; kill < kills; kill++) {
      const { page } = bench
      await page.goto(study)
      await toPlace(page, 'pull')
      await addSpecimen(page, 'reef')
      await openPort(page)
      await page.evaluate(`bench.run(${linesPerS}, 4)`)
      await page.locator('.pull[data-moment="ready"]').waitFor()
      await page.keyboard.press('Space')
      await page.locator('.pull[data-moment="pulling"]').waitFor({ timeout: 30_000 })
      await page.waitForTimeout(137 * (kill % 17))
      const said = await page.evaluate<number>('bench.said')
      await page.waitForTimeout(WITHIN_MS)
      process.kill(bench.pid, 'SIGKILL')
      await bench.close().catch(() => {})
      bench = await bench.again()
      const kept = await waitForKept(bench.page, kill + 1 - gone).catch(() => null)
      const last = kept?.at(-1)
      if (last?.state !== 'recovered') {
        gone++
        tell(`kill ${kill + 1}: nothing came back`)
        continue
      }
      // All between the first and the last that were kept, and none after the moment it was due.
      const held = last.samplesThere
      const wanted = said - (last.firstOfChannel ?? 0)
      due += wanted
      lost += Math.max(0, wanted - held)
      tell(`kill ${kill + 1}: ${wanted} were due, ${held} are there`)
    }
  } finally {
    await bench.stop()
  }
  return { kills, lost, due, gone }
}
