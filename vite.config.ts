import { builtinModules } from 'node:module'
import { defineConfig } from 'vite'

/**
 * The command line and the two public libraries, bundled so that a short command starts quickly.
 * Dependencies stay outside the bundle, except the small pure ones that start-up would otherwise pay for file by file.
 */
const BUNDLED = [/^d3-/, /^internmap/, /^commander/, /^@stdlib\//, /^ml-matrix/]

export default defineConfig({
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist',
    emptyOutDir: false,
    // Whose work is bundled in, and under which licence.
    license: { fileName: 'licences.md' },
    minify: false,
    sourcemap: true,
    rollupOptions: {
      input: {
        cli: 'src/cli/main.ts',
        core: 'src/core/index.ts',
        logs: 'src/logs/index.ts',
        schemas: 'src/cli/schemas.ts',
        jobThread: 'src/cli/compare/jobThread.ts',
        logThread: 'src/cli/logThread.ts',
      },
      output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: 'chunks/[name]-[hash].js' },
      external: [...builtinModules, /^node:/],
    },
  },
  ssr: { noExternal: BUNDLED },
})
