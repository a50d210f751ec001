import type { Page } from 'playwright-core'

export interface DroppedText {
  readonly name: string
  readonly text: string
  /** When the file was last written; now where not given. */
  readonly lastModified?: number
}

/** Drops files onto the page as a hand does: held over it first, then let go. */
export async function dropFiles(page: Page, files: readonly DroppedText[]): Promise<void> {
  await page.evaluate(`{
    const carried = new DataTransfer()
    for (const { name, text, lastModified = Date.now() } of ${JSON.stringify(files)})
      carried.items.add(new File([text], name, { lastModified }))
    const happens = type => document.body.dispatchEvent(
      new DragEvent(type, { bubbles: true, cancelable: true, dataTransfer: carried }),
    )
    happens('dragover')
    happens('drop')
  }`)
}
