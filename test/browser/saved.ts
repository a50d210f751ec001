import { readFile } from 'node:fs/promises'
import type { Page } from 'playwright-core'

export interface SavedFile {
  readonly name: string
  readonly bytes: Buffer
}

/**
 * The file that a button of the page saves. Pressed by key: a click in the very frame in which the page was scrolled can
 * still land in the preview, which the browser draws in a process of its own.
 */
export async function saved(page: Page, button: string): Promise<SavedFile> {
  const coming = page.waitForEvent('download', { timeout: 120_000 })
  await page.getByRole('button', { name: button, exact: true }).press('Enter')
  const download = await coming
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) }
}

/** The page as it will be read, within the app's. */
export const preview = (page: Page) => page.frameLocator('iframe.tell-frame')
