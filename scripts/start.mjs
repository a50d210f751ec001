// `npm start`: from a fresh clone to the demo study, with nothing but Node.
import { join } from 'node:path'
import { build, install, mustRun, root } from './prepare.mjs'

install()
build()
mustRun('The demo', process.execPath, [join(root, 'bin', 'tenterhook.js'), 'demo', ...process.argv.slice(2)])
