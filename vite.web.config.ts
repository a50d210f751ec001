import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { viteSingleFile } from 'vite-plugin-singlefile'

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
    worker: asPage ? { format: 'iife' } : { format: 'es' },
    build: {
      target: 'es2022',
      outDir: asPage ? '../../dist/page' : '../../dist/web',
      emptyOutDir: true,
      // Whose work is bundled in, and under which licence.
      license: { fileName: 'licences.md' },
      sourcemap: !asPage,
      chunkSizeWarningLimit: 800,
      assetsInlineLimit: asPage ? Number.MAX_SAFE_INTEGER : 0,
      rollupOptions: { input: asPage ? 'src/web/page.html' : 'src/web/index.html' },
    },
  }
})
