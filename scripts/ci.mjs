// What `.ci/run` does: `npm test`, then the long suite, types, lint, import rules, dead code and the schemas.
// Every test and every check counts; the last line is `N passed, N failed`.
import { mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join, relative } from 'node:path'
import { root, run, tool } from './prepare.mjs'

const results = join(root, 'out')
mkdirSync(results, { recursive: true })

let passed = 0
let failed = 0
/** What failed, in words, told again at the very end: the log before it is thousands of lines long. */
const failures = []
/** Tests that passed at their second try only. */
const unsteady = []

/** Runs a suite through `npm test` and adds its counts; a suite that leaves no counts is one failure. */
function suite(name, args) {
  const file = join(results, `${name}.json`)
  rmSync(file, { force: true })
  console.log(`\n== ${name}`)
  const script = args.includes('--slow') ? 'test:slow' : 'test'
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`]
  const code =
    process.platform === 'win32'
      ? run('cmd', ['/c', 'npm', 'run', script, '--', ...reporters])
      : run('npm', ['run', script, '--', ...reporters])
  try {
    const counts = JSON.parse(readFileSync(file, 'utf8'))
    passed += counts.numPassedTests
    // A skipped test is a check that is switched off: it counts against us.
    const bad = counts.numTotalTests - counts.numPassedTests
    failed += Math.max(bad, code === 0 ? 0 : 1)
    failures.push(...notPassed(name, counts))
    unsteady.push(...atSecondTry(name, counts))
    if (bad === 0 && code !== 0)
      failures.push(`${name}: every test passed, but the runner ended with ${code}`)
  } catch {
    failed += 1
    failures.push(`${name}: no counts were written (exit ${code})`)
  }
}

/** One text a test that did not pass, and one a file that could not be run: where, which, and the first lines of why. */
function notPassed(name, { testResults }) {
  return testResults.flatMap(file => {
    const tests = file.assertionResults.filter(test => test.status !== 'passed')
    if (file.status !== 'passed' && tests.length === 0)
      return [`${where(name, file)}\n    ${firstLines(file.message)}`]
    return tests.map(test => testText(name, file, test))
  })
}

/** One text a test that passed and has the failure of its first try beside it. */
const atSecondTry = (name, { testResults }) =>
  testResults.flatMap(file =>
    file.assertionResults
      .filter(test => test.status === 'passed' && (test.failureMessages ?? []).length > 0)
      .map(test => testText(name, file, test)),
  )

const where = (name, file) => `${name}: ${relative(root, file.name)}`
const firstLines = text => (text ?? '').split('\n').slice(0, 6).join('\n    ')
const testText = (name, file, test) =>
  `${where(name, file)}: ${test.fullName}\n    ${test.status}: ${firstLines(test.failureMessages?.[0])}`

function check(name, code) {
  console.log(`== ${name}: ${code === 0 ? 'passed' : `failed (exit ${code})`}`)
  if (code === 0) passed += 1
  else {
    failed += 1
    failures.push(`${name}: exit ${code}`)
  }
}

suite('npm-test', [])
suite('slow-tests', ['--slow'])
check('types', tool('typescript/bin/tsc', ['--noEmit']))
check('types of the app', tool('typescript/bin/tsc', ['-p', 'src/web', '--noEmit']))
check('types of core without Node', tool('typescript/bin/tsc', ['-p', 'src/core', '--noEmit']))
check('lint and format', tool('@biomejs/biome/bin/biome', ['check', '.']))
check(
  'import rules',
  tool('dependency-cruiser/bin/dependency-cruise.mjs', ['--config', '.dependency-cruiser.cjs', 'src']),
)
check('dead code', tool('knip/bin/knip.js', []))
check(
  'schemas are those of the code',
  run(process.execPath, [join(root, 'scripts', 'schemas.mjs'), '--check']),
)
check('compiled parts for every platform', run(process.execPath, [join(root, 'scripts', 'platforms.mjs')]))
check(
  'the package, packed and installed elsewhere',
  run(process.execPath, [join(root, 'scripts', 'smoke.mjs')]),
)

if (unsteady.length > 0) console.log(`\nPassed at the second try only:\n${unsteady.join('\n')}`)
if (failures.length > 0) console.log(`\nWhat failed:\n${failures.join('\n')}`)
console.log(`\n${passed} passed, ${failed} failed`)
process.exitCode = failed === 0 ? 0 : 1
