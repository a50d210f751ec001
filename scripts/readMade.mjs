// `npm run read:made -- [--seeds N] [--first N] [--kinds a,b] [--notes]`: reads made-up pulls of every kind with the
// engine as it stands in src/, and prints how well, a row a kind. `--notes` tells what was wrong with which.
import { join } from 'node:path'
import { runnerImport } from 'vite'
import { install, root } from './prepare.mjs'

install()
const file = join(root, 'test', 'core', 'reading', 'harness', 'printMade.ts')
const { module } = await runnerImport(file, { root, configFile: false, logLevel: 'error' })
module.printMade(process.argv.slice(2))
