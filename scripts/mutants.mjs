// `npm run mutants -- [--count N] [--seed N] [--only src/core/signal] [--again] [--write]`: makes small
// changes in `src/core` and `src/logs`, one at a time, and tells which of them the quick tests of the same
// room do not notice. Nothing on disk is changed, and every result is kept in `out/`, so that a run can be
// stopped and gone on with; `--again` tries anew what survived, `--write` puts the survivors into
// `docs/evidence/mutants.md`. Not a part of the checks: a change takes seconds.
import { spawn, spawnSync } from 'node:child_process'
import { appendFileSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join, relative, resolve } from 'node:path'
import { parseArgs } from 'node:util'
import ts from 'typescript'
import { evidence } from './mutantEvidence.mjs'
import { codeOf, folderOf, hashOf, idOf, mutantsOf, sampleOf } from './mutate.mjs'
import { root } from './prepare.mjs'

const { values } = parseArgs({
  options: {
    count: { type: 'string', default: '60' },
    seed: { type: 'string', default: '1' },
    only: { type: 'string', default: '' },
    again: { type: 'boolean', default: false },
    write: { type: 'boolean', default: false },
  },
})
const count = Number(values.count)
if (!Number.isInteger(count) || count < 1) {
  console.error(`--count is a whole number of changes, 1 or more; got ${values.count}.`)
  process.exit(2)
}

const filesIn = folder =>
  readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter(entry => entry.isFile() && entry.name.endsWith('.ts'))
    .map(entry => relative(root, join(entry.parentPath, entry.name)).replaceAll('\\', '/'))
    .sort()
const textOf = file => readFileSync(join(root, file), 'utf8')

const rooms = ['core', 'logs']
const sources = rooms.flatMap(room => filesIn(`src/${room}`)).filter(file => file.startsWith(values.only))
const tests = rooms
  .flatMap(room => filesIn(`test/${room}`))
  .filter(file => /(?<!\.slow)\.test\.ts$/.test(file))

/** How far each source file is from a test: 1 where the test imports it itself. */
function distancesFrom(test) {
  const far = new Map()
  let edge = [test]
  for (let step = 0; edge.length > 0; step++) {
    const next = []
    for (const file of edge) {
      if (far.has(file)) continue
      far.set(file, step)
      next.push(...importsOf(file))
    }
    edge = next
  }
  return far
}
const imports = new Map()
function importsOf(file) {
  if (!imports.has(file)) {
    const found = ts.preProcessFile(textOf(file)).importedFiles.map(({ fileName }) => fileName)
    imports.set(
      file,
      found
        .filter(name => name.startsWith('.'))
        .map(name => relative(root, resolve(root, dirname(file), name)).replaceAll('\\', '/'))
        .filter(name => name.endsWith('.ts') && existsSync(join(root, name))),
    )
  }
  return imports.get(file)
}
const distances = new Map(tests.map(test => [test, distancesFrom(test)]))

const kept = join(root, 'out', `mutants-${values.seed}.jsonl`)
mkdirSync(dirname(kept), { recursive: true })

let child = null
const stop = () => {
  if (child) kill(child)
  console.log('\nStopped; what is done is kept, and the same command goes on.')
  process.exit(130)
}
process.on('SIGINT', stop)
process.on('SIGTERM', stop)

function kill(running) {
  try {
    if (process.platform === 'win32') running.kill('SIGKILL')
    else process.kill(-running.pid, 'SIGKILL')
  } catch {
    // It ended by itself meanwhile.
  }
}

/** Exit code of the tests with one change made; `null` where they did not end in time. */
function run(job, limitMs) {
  return new Promise(done => {
    child = spawn(process.execPath, [join(root, 'scripts', 'mutantChild.mjs')], {
      cwd: root,
      env: { ...process.env, TENTERHOOK_MUTANT: JSON.stringify(job) },
      stdio: 'ignore',
      detached: process.platform !== 'win32',
    })
    const timer = setTimeout(() => kill(child), limitMs)
    child.on('exit', code => {
      clearTimeout(timer)
      child = null
      done(code)
    })
  })
}

// How long each test takes as the code stands; a test that fails without a change can tell nothing of one.
const base = join(root, 'out', 'mutants-base.json')
const standing = hashOf(tests.join())
let durations = existsSync(base) ? JSON.parse(readFileSync(base, 'utf8')) : null
if (durations?.standing !== standing) {
  console.log(`First all ${tests.length} test files without a change …`)
  const file = join(root, 'out', 'mutants-durations.json')
  await run({ tests, durations: file }, 3_600_000)
  durations = { standing, files: JSON.parse(readFileSync(file, 'utf8')) }
  writeFileSync(base, JSON.stringify(durations))
}
const failing = durations.files.filter(file => !file.ok)
if (failing.length > 0) {
  console.error(
    `These fail without any change: ${failing.map(({ file }) => file).join(', ')}. Mend them first.`,
  )
  process.exit(1)
}
const msOf = new Map(durations.files.map(({ file, ms }) => [file, ms]))

/** The tests of a room that load a file, those most likely to notice first: nearest, then quickest. */
function testsFor(file) {
  const room = file.split('/')[1]
  const mirror = folderOf(file).replace('src/', 'test/')
  const rank = test =>
    (distances.get(test).get(file) ?? 0) -
    (test === file.replace('src/', 'test/').replace('.ts', '.test.ts') ? 9 : 0) -
    (test.startsWith(`${mirror}/`) ? 1 : 0)
  return tests
    .filter(test => test.startsWith(`test/${room}/`) && distances.get(test).has(file))
    .sort((a, b) => rank(a) - rank(b) || (msOf.get(a) ?? 0) - (msOf.get(b) ?? 0))
}

const sample = sampleOf(
  sources.flatMap(file => mutantsOf(file, textOf(file))),
  values.seed,
  count,
)
const known = new Map()
if (existsSync(kept))
  for (const line of readFileSync(kept, 'utf8').split('\n').filter(Boolean)) {
    const result = JSON.parse(line)
    known.set(`${result.id} ${result.file}`, result)
  }

const results = []
for (const [i, mutant] of sample.entries()) {
  const id = idOf(mutant)
  // A result holds as long as the code of the file that it speaks of.
  const file = hashOf(codeOf(mutant.file, textOf(mutant.file)))
  let result = known.get(`${id} ${file}`)
  if (!result || (values.again && result.fate === 'survived')) {
    const chosen = testsFor(mutant.file)
    const limitMs = 30_000 + 3 * chosen.reduce((sum, test) => sum + (msOf.get(test) ?? 0), 0)
    const began = performance.now()
    const code = chosen.length === 0 ? 0 : await run({ mutant, tests: chosen }, limitMs)
    const fate = code === 0 ? 'survived' : code === 10 ? 'killed' : code === null ? 'out of time' : 'not run'
    result = { id, file, fate, s: Math.round((performance.now() - began) / 100) / 10 }
    if (fate !== 'not run') appendFileSync(kept, `${JSON.stringify(result)}\n`)
    console.log(
      `${i + 1}/${count} ${fate} ${result.s} s  ${mutant.file}:${mutant.line} ${mutant.kind}  ${mutant.was.slice(0, 50)} → ${mutant.now.slice(0, 50)}`,
    )
  }
  results.push({ mutant, fate: result.fate })
}

console.log(`\n${evidence.table(results)}`)
if (values.write) {
  const page = join(root, 'docs', 'evidence', 'mutants.md')
  mkdirSync(dirname(page), { recursive: true })
  const version = spawnSync('git', ['rev-parse', '--short', 'HEAD'], {
    cwd: root,
    encoding: 'utf8',
  }).stdout.trim()
  const before = existsSync(page) ? readFileSync(page, 'utf8') : ''
  writeFileSync(page, evidence.page(results, { seed: values.seed, version, before }))
  console.log(`Written: ${relative(root, page)}`)
}
