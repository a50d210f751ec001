// `npm run build`: makes dist anew. Expects `npm ci` to have run.
import { build } from './prepare.mjs'

build({ always: true })
