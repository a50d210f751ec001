import { readFile } from 'node:fs/promises'
import type { Page } from 'playwright-core'

export interface SavedFile {
  readonly name: string
  readonly bytes: Buffer
}

/** The file that a button of the page saves. */
export async function saved(page: Page, button: string): Promise<SavedFile> {
  const coming = page.waitForEvent('download', { timeout: 120_000 })
  await page.getByRole('button', { name: button, exact: true }).click()
  const download = await coming
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) }
}

/** The page as it will be read, within the app's. */
export const preview = (page: Page) => page.frameLocator('iframe.tell-frame')
