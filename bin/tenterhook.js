#!/usr/bin/env node
import { existsSync } from 'node:fs'

const built = new URL('../dist/cli.js', import.meta.url)
if (existsSync(built)) {
  await import(built.href)
} else {
  console.error('tenterhook is not built yet. Run: npm ci && npm run build')
  process.exitCode = 70
}
