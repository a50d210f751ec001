// `npm start`: from a fresh clone to the demo study, with nothing but Node.
import { join } from 'node:path'
import { build, install, mustRun, RUNNING, root } from './prepare.mjs'

install()
build({ parts: RUNNING })
mustRun('The app', process.execPath, [
  join(root, 'bin', 'tenterhook.js'),
  'start',
  '--demo',
  ...process.argv.slice(2),
])
