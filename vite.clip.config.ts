import { defineConfig } from 'vite'

/** The script of the page that a browser without a window opens to render clips: one file, `dist/clip/page.js`. */
export default defineConfig({
  build: {
    target: 'es2022',
    outDir: 'dist/clip',
    emptyOutDir: true,
    // Whose work is bundled in, and under which licence.
    license: { fileName: 'licences.md' },
    lib: { entry: 'src/publish/clip/page.ts', formats: ['es'], fileName: () => 'page.js' },
  },
})
