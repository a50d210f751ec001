// `npm run smoke`: packs the package, installs it elsewhere as a stranger would (no lock file, no compiler)
// and works with it: on the oldest Node that is promised, on the later ones, and on this one.
import { spawn, spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { isBuiltin } from 'node:module'
import { tmpdir } from 'node:os'
import { delimiter, dirname, join } from 'node:path'
import { setTimeout as after } from 'node:timers/promises'
import { build, install, npmCommand, root } from './prepare.mjs'

/**
 * The least that `engines` in package.json allows, and the newest of each later line when this was written.
 */
const NODES = ['20.19.0', '22.23.3', '24.22.3']
const MOST_MB = 80

const elsewhere = mkdtempSync(join(tmpdir(), 'tenterhook-smoke-'))
const COMPILERLESS = { CC: 'false', CXX: 'false', npm_config_nodedir: join(elsewhere, 'no-headers') }
const { name, dependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))

function must(what, command, words, { env = {}, cwd = elsewhere } = {}) {
  const done = spawnSync(command, words, {
    cwd,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, ...env },
  })
  if (done.status === 0) return done.stdout
  throw new Error(`${what} failed (exit ${done.status}): ${done.error ?? ''}\n${done.stdout}\n${done.stderr}`)
}

function mustHold(what, holds) {
  if (!holds) throw new Error(`${what}: it does not hold`)
}

function megabytesOf(folder) {
  const bytes = path => {
    const about = statSync(path)
    if (!about.isDirectory()) return about.size
    return readdirSync(path).reduce((sum, entry) => sum + bytes(join(path, entry)), 0)
  }
  return bytes(folder) / 1024 / 1024
}

/** Nodes of other versions, from the packages that the registry's `node` package is put together of. */
function otherNodes() {
  if (process.platform !== 'linux' || !['x64', 'arm64'].includes(process.arch)) {
    console.log(`Other versions of Node are tried on Linux only; here on ${process.version} alone.`)
    return []
  }
  const folder = join(root, 'out', 'nodes')
  const at = version => join(folder, version, 'node_modules', `node-linux-${process.arch}`, 'bin', 'node')
  for (const version of NODES) {
    if (existsSync(at(version))) continue
    const words = ['i', `node-linux-${process.arch}@${version}`, '--prefix', join(folder, version)]
    const [command, ...first] = npmCommand()
    must(`fetching Node ${version}`, command, [
      ...first,
      ...words,
      '--ignore-scripts',
      '--no-audit',
      '--no-fund',
    ])
  }
  return NODES.map(at)
}

function packed() {
  const [command, ...first] = npmCommand()
  const words = ['pack', '--json', '--ignore-scripts', '--pack-destination', elsewhere]
  must('npm pack', command, [...first, ...words], { cwd: root })
  const file = readdirSync(elsewhere).find(entry => entry.endsWith('.tgz'))
  mustHold('a package was packed', file !== undefined)
  return join(elsewhere, file)
}

/** Installs with an empty cache by the Node given, which refuses what refuses it. */
function installed(tarball, node) {
  const [command, ...first] = npmCommand(node)
  const begun = performance.now()
  must(
    'npm install of the package',
    command,
    [
      ...first,
      'i',
      tarball,
      '--engine-strict',
      '--cache',
      join(elsewhere, 'cache'),
      '--no-audit',
      '--no-fund',
    ],
    // Where npm is a script on the path, it runs by the first Node there.
    { env: { ...COMPILERLESS, PATH: `${dirname(node)}${delimiter}${process.env.PATH}` } },
  )
  const seconds = (performance.now() - begun) / 1000
  const megabytes = megabytesOf(join(elsewhere, 'node_modules'))
  console.log(`installed in ${seconds.toFixed(1)} s, ${megabytes.toFixed(1)} MB`)
  mustHold(`at most ${MOST_MB} MB are installed`, megabytes <= MOST_MB)
  const maps = readdirSync(join(elsewhere, 'node_modules', name), { recursive: true }).filter(path =>
    String(path).endsWith('.map'),
  )
  mustHold('no source maps are shipped', maps.length === 0)
  bundledWhole()
}

/** What the bundle still imports comes with Node or is one of the package's dependencies. */
function bundledWhole() {
  const folder = join(elsewhere, 'node_modules', name, 'dist')
  const scripts = [folder, join(folder, 'chunks')].flatMap(from =>
    readdirSync(from)
      .filter(file => file.endsWith('.js'))
      .map(file => join(from, file)),
  )
  for (const script of scripts) {
    const text = readFileSync(script, 'utf8').replace(/^\s*(?:\/\*|\*|\/\/).*$/gm, '')
    const imports =
      /^(?:import|export)\b[^'"\n]*["']([^."'][^"']*)["']|\bimport\("([^."][^"]*)"\)|\b__require\("([^."][^"]*)"\)/gm
    for (const [, ...found] of text.matchAll(imports)) {
      const wanted = found.find(Boolean)
      mustHold(`${script} imports ${wanted}`, isBuiltin(wanted) || wanted in dependencies)
    }
  }
}

/** What a newcomer does, by the Node given: read a log, record, look at the store, draw, and open the app. */
async function work(node) {
  const version = must('node --version', node, ['--version']).trim()
  const store = mkdtempSync(join(elsewhere, 'store-'))
  const command = join(elsewhere, 'node_modules', name, 'bin', 'tenterhook.js')
  const env = { TENTERHOOK_STORE: store }
  const run = (...words) => must(`${version}: tenterhook ${words[0]}`, node, [command, ...words], { env })
  const log = join(root, 'test', 'records', 'brittle-1.csv')

  const reading = JSON.parse(run('read', log, '--json'))
  mustHold(`${version}: a log reads`, reading.results.peakForce.status === 'measured')
  const quick = ['--speed', '20', '--finish-after', '1']
  const named = ['--study', 'Smoke', '--variant', 'brittle', '--specimen', 'one']
  const { recording } = JSON.parse(run('record', '--pretend', 'brittle', ...quick, ...named, '--json'))
  mustHold(`${version}: a pull is recorded`, recording.state === 'complete' && recording.samples > 0)
  mustHold(`${version}: it is in the store`, run('list').includes('Smoke'))
  mustHold(`${version}: the store is sound`, JSON.parse(run('verify', '--json')).sound === true)
  run('ports')
  for (const [what, file, head] of [
    [['figure', 'pull'], 'figure.png', '\x89PNG'],
    [['report'], 'report.pdf', '%PDF'],
  ]) {
    run(...what, '--study', 'Smoke', '--out', join(store, file))
    mustHold(`${version}: ${file} is drawn`, readFileSync(join(store, file), 'latin1').startsWith(head))
  }
  const library = `import('${name}/logs').then(logs => process.exit(Object.keys(logs).length > 0 ? 0 : 1))`
  must(`${version}: import of ${name}/logs`, node, ['--input-type=module', '-e', library])
  await app(version, node, command, env)
  console.log(`${version}: read, record, list, verify, ports, figure, report and start work`)
}

async function app(version, node, command, env) {
  const child = spawn(node, [command, 'start', '--no-open', '--port', '0', '--json'], {
    cwd: elsewhere,
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const ended = new Promise(resolve => child.on('close', resolve))
  try {
    let said = ''
    child.stdout.on('data', text => {
      said += text
    })
    for (let tries = 0; !said.includes('\n') && tries < 600 && child.exitCode === null; tries++)
      await after(100)
    const { address } = JSON.parse(said)
    const page = await (await fetch(address)).text()
    const script = /<script[^>]* src="([^"]+)"/.exec(page)?.[1]
    mustHold(`${version}: the app answers`, script !== undefined)
    mustHold(`${version}: its script is there`, (await fetch(new URL(script, address))).ok)
    const { items } = await (await fetch(new URL('api/recordings', address))).json()
    mustHold(`${version}: it shows what was recorded`, items.length === 1)
  } finally {
    child.kill('SIGTERM')
  }
  mustHold(`${version}: start ends when it is told to`, (await ended) === 0)
}

install()
build()
try {
  const nodes = otherNodes()
  installed(packed(), nodes[0] ?? process.execPath)
  const mine = process.version.slice(1)
  for (const node of NODES.includes(mine) ? nodes : [...nodes, process.execPath]) await work(node)
} catch (error) {
  console.error(error instanceof Error ? error.message : error)
  process.exitCode = 1
} finally {
  rmSync(elsewhere, { recursive: true, force: true })
}
