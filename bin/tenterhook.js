#!/usr/bin/env node
// In CommonJS, for one reason: what starts the command once more (largePages.js) starts sooner so.
const { existsSync } = require('node:fs')
const { join } = require('node:path')
const { pathToFileURL } = require('node:url')
const { startWithLargePages, wantsLargePages } = require('./largePages.js')

const built = join(__dirname, '..', 'dist', 'cli.js')
if (!existsSync(built)) {
  console.error('tenterhook is not built yet. Run: npm ci && npm run build')
  process.exitCode = 70
} else if (wantsLargePages(process.argv.slice(2))) startWithLargePages()
else import(pathToFileURL(built).href)
