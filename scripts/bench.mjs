// `npm run bench NAME`: builds what is stale, then runs benchmarks/NAME.ts. Benchmarks time the built command
// line.
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { runnerImport } from 'vite'
import { build, root } from './prepare.mjs'

const name = process.argv[2] ?? ''
const file = join(root, 'benchmarks', `${name}.ts`)
if (!/^\w+$/.test(name) || !existsSync(file)) {
  console.error('usage: npm run bench NAME, where benchmarks/NAME.ts is there')
  process.exit(2)
}
if (!process.env.TENTERHOOK_CLI) build()
await runnerImport(file, { root, configFile: false, logLevel: 'error' })
