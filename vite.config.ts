import { readFileSync } from 'node:fs'
import { builtinModules } from 'node:module'
import { defineConfig } from 'vite'

/**
 * The command line and the two public libraries, with all that they need: a short command starts quickly, and who installs
 * the package installs nothing twice. Outside stay the packages that bring a compiled part, `dependencies` in package.json.
 */
const { dependencies } = JSON.parse(readFileSync(new URL('package.json', import.meta.url), 'utf8')) as {
  dependencies: Record<string, string>
}

export default defineConfig({
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist',
    emptyOutDir: false,
    // Whose work is bundled in, and under which licence.
    license: { fileName: 'licences.md' },
    minify: false,
    rollupOptions: {
      input: {
        cli: 'src/cli/main.ts',
        core: 'src/core/index.ts',
        logs: 'src/logs/index.ts',
        schemas: 'src/cli/schemas.ts',
        besideThread: 'src/server/beside/thread.ts',
        jobThread: 'src/cli/compare/jobThread.ts',
        logThread: 'src/cli/logThread.ts',
      },
      output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: 'chunks/[name]-[hash].js' },
      external: [...builtinModules, /^node:/],
    },
  },
  ssr: { noExternal: true, external: Object.keys(dependencies) },
})
