#!/usr/bin/env node
import { existsSync } from 'node:fs'
import { startWithLargePages, wantsLargePages } from './largePages.js'

const built = new URL('../dist/cli.js', import.meta.url)
if (!existsSync(built)) {
  console.error('tenterhook is not built yet. Run: npm ci && npm run build')
  process.exitCode = 70
} else if (wantsLargePages(process.argv.slice(2))) await startWithLargePages()
else await import(built.href)
