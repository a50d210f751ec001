// Runs the tests that are named, one after another, with one change made in a source file as it is loaded:
// nothing on disk is touched. Started by `mutants.mjs`. Exit 0: all passed. Exit 10: one failed. Any other:
// the runner itself did, nothing ran, or the file is another by now.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { startVitest } from 'vitest/node'
import { root } from './prepare.mjs'

const { mutant, tests, durations } = JSON.parse(process.env.TENTERHOOK_MUTANT ?? '{}')

const order = new Map(tests.map((file, i) => [join(root, file), i]))
class AsTold {
  async shard(files) {
    return files
  }
  async sort(files) {
    return [...files].sort((a, b) => order.get(a.moduleId) - order.get(b.moduleId))
  }
}

const changed = mutant && join(root, mutant.file)
let isOther = false
const change = {
  name: 'one-change',
  enforce: 'pre',
  transform(code, id) {
    if (!changed || id !== changed) return null
    // The file was written to since the change was chosen: what stands there now is something else.
    if (code.slice(mutant.start, mutant.end) !== mutant.was) {
      isOther = true
      return null
    }
    return { code: code.slice(0, mutant.start) + mutant.now + code.slice(mutant.end), map: null }
  },
}

const vitest = await startVitest(
  'test',
  tests,
  {
    root,
    config: false,
    watch: false,
    pool: 'forks',
    // One process without walls between the files: the tests of pure rooms share nothing, and load the engine
    // once.
    isolate: false,
    maxWorkers: 1,
    fileParallelism: false,
    bail: durations ? 0 : 1,
    testTimeout: 60_000,
    include: ['test/**/*.test.ts'],
    exclude: ['test/**/*.slow.test.ts'],
    reporters: [{}],
    sequence: { sequencer: AsTold },
  },
  { plugins: [change] },
)
const modules = vitest?.state.getTestModules() ?? []
if (durations)
  writeFileSync(
    durations,
    JSON.stringify(
      modules.map(module => ({
        file: module.relativeModuleId,
        ms: module.diagnostic().duration + module.diagnostic().collectDuration,
        ok: module.ok(),
      })),
    ),
  )
// A file that cannot be loaded has no test that failed: it is a failure all the same.
const failed = modules.some(module => !module.ok())
await vitest?.close()
process.exit(modules.length === 0 || isOther ? 3 : failed ? 10 : 0)
