// `npm run fit:priors -- [--seeds N] [--folds N] [--passes N] [--only a,b] [--look] [--real FOLDER]`: fits
// the priors of the reading that are called fitted, over made-up pulls and, where a folder with labels.json
// is given, over real records. Prints the loss on held-out families and origins, and the values that a fit on
// all comes to; it changes no file.
import { join } from 'node:path'
import { runnerImport } from 'vite'
import { root } from './prepare.mjs'

const file = join(root, 'test', 'core', 'reading', 'fit', 'fitPriors.ts')
const { module } = await runnerImport(file, { root, configFile: false, logLevel: 'error' })
module.fitPriors(process.argv.slice(2))
