// `npm test`: from a fresh clone to a passed suite, with nothing but Node. `--slow` runs the long suite
// instead. Further words go to the test runner, as in `npm test -- test/core/units`.
import { build, install, tool } from './prepare.mjs'
import { needSystemPackages } from './systemPackages.mjs'

const words = process.argv.slice(2).filter(word => word !== '--slow')
const slow = process.argv.includes('--slow')

install()
build()
needSystemPackages({ slow })
process.exitCode = tool('vitest/vitest.mjs', ['run', ...words], { env: slow ? { TENTERHOOK_SLOW: '1' } : {} })
