import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'vite'

const here = fileURLToPath(new URL('.', import.meta.url))

/** A script of this folder with what it imports, as one file that a bare Node runs. Gives its path. */
export async function bundled(script: string, folder: string): Promise<string> {
  await build({
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: join(here, script),
      outDir: folder,
      emptyOutDir: false,
      rollupOptions: { output: { entryFileNames: 'child.mjs' } },
    },
    ssr: { noExternal: true, external: ['serialport', '@photostructure/sqlite', '@resvg/resvg-js'] },
  })
  return join(folder, 'child.mjs')
}
