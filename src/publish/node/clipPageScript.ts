import { existsSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/**
 * The built script of the page that renders clips. Found by walking up, as the fonts are; `null` where
 * nothing is built.
 */
export async function clipPageScript(): Promise<Uint8Array | null> {
  let folder = dirname(fileURLToPath(import.meta.url))
  for (;;) {
    const script = join(folder, 'dist', 'clip', 'page.js')
    if (existsSync(script)) return readFile(script)
    const up = dirname(folder)
    if (up === folder) return null
    folder = up
  }
}
