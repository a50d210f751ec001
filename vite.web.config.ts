import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { viteSingleFile } from 'vite-plugin-singlefile'

/** Two workers are built from parts of one engine: what one of them loads later, the other has from its start. */
const CHECKS = { ineffectiveDynamicImport: false, pluginTimings: false }

/** Rooms whose modules do nothing when they are loaded: the engine is not to be fetched with the first page. */
const PURE = /\/src\/(core|logs)\//

/**
 * The app, two ways from one source: `dist/web` for the server, and with `--mode page` one HTML file in `dist/page`
 * that opens from disk. What differs stands in the two entries, `src/web/main.tsx` and `src/web/page.tsx`.
 */
export default defineConfig(({ mode }) => {
  const asPage = mode === 'page'
  return {
    root: 'src/web',
    base: './',
    plugins: [react(), ...(asPage ? [viteSingleFile({ removeViteModuleLoader: true })] : [])],
    // Browsers start no module from memory on a page that was opened from disk: there a worker is one plain script.
    worker: { format: asPage ? 'iife' : 'es', rollupOptions: { checks: CHECKS } },
    build: {
      target: 'es2022',
      outDir: asPage ? '../../dist/page' : '../../dist/web',
      emptyOutDir: true,
      // Whose work is bundled in, and under which licence.
      license: { fileName: 'licences.md' },
      chunkSizeWarningLimit: 800,
      assetsInlineLimit: asPage ? Number.MAX_SAFE_INTEGER : 0,
      rollupOptions: {
        input: asPage ? 'src/web/page.html' : 'src/web/index.html',
        checks: CHECKS,
        // A pure module of which nothing is used is not loaded for what it might do.
        treeshake: { moduleSideEffects: id => !PURE.test(id) },
        onwarn(warning, tell) {
          // The policy that is meant stands in the reports which the page writes, not in the page.
          if (!/Content-Security-Policy meta tag/.test(warning.message)) tell(warning)
        },
      },
    },
  }
})
