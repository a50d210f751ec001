// `npm run read:made -- [--seeds N] [--first N] [--kinds a,b] [--notes] [--into PAGE.md [--real FOLDER]]`:
// reads made-up pulls of every kind with the engine as it stands in src/, and prints how well, a row a kind.
// `--notes` tells what was wrong with which; `--into docs/reading.md` writes the figures into that page.
import { join } from 'node:path'
import { runnerImport } from 'vite'
import { root } from './prepare.mjs'

const file = join(root, 'test', 'core', 'reading', 'harness', 'printMade.ts')
const { module } = await runnerImport(file, { root, configFile: false, logLevel: 'error' })
module.printMade(process.argv.slice(2))
