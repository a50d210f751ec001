// Installs and builds what is missing or stale. Plain JavaScript: it runs before anything is installed.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'

export const root = fileURLToPath(new URL('..', import.meta.url))

const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(
    `Tenterhook needs Node 20.19 or newer; this is ${process.versions.node}. Install a newer Node and try again.`,
  )
  process.exit(1)
}

/** Runs a command in the project folder and ends this process with its exit code if it fails. */
export function mustRun(title, command, args, options = {}) {
  const done = run(command, args, options)
  if (done !== 0) {
    console.error(`${title} failed (exit ${done}); what it said stands above.`)
    process.exit(done)
  }
}

/** Runs a command in the project folder; returns its exit code. */
export function run(command, args, { env = {}, quiet = false } = {}) {
  const done = spawnSync(command, args, {
    cwd: root,
    stdio: quiet ? ['ignore', 'ignore', 'inherit'] : ['ignore', 'inherit', 'inherit'],
    env: { ...process.env, ...env },
  })
  if (done.error) console.error(`${command}: ${done.error.message}`)
  return done.status ?? 1
}

/** Runs one of the project's own tools by its script, so that no shell or PATH is needed (Windows too). */
export const tool = (path, args, options) =>
  run(process.execPath, [join(root, 'node_modules', path), ...args], options)

/** npm as a command and its first words, run by the Node given. */
export function npmCommand(node = process.execPath) {
  // Under `npm start` npm tells where it lives; run directly, fall back to the command on the path.
  const script = process.env.npm_execpath
  if (script && /\.[cm]?js$/.test(script)) return [node, script]
  return process.platform === 'win32' ? ['cmd', '/c', 'npm'] : ['npm']
}

function npm(args) {
  const [command, ...first] = npmCommand()
  return run(command, [...first, ...args])
}

const hashOf = paths => {
  const hash = createHash('sha256')
  for (const path of paths)
    hash.update(relative(root, path)).update('\0').update(readFileSync(path)).update('\0')
  return hash.digest('hex')
}

const stampIs = (stamp, value) => existsSync(stamp) && readFileSync(stamp, 'utf8') === value

/** What the lock file wants to be installed, as a hash: a release of our own changes nothing of it. */
function wantedPackages() {
  const { packages } = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'))
  packages[''].version = ''
  return createHash('sha256').update(JSON.stringify(packages)).digest('hex')
}

/** `npm ci` when node_modules is missing or was made from another lock file. */
export function install() {
  const stamp = join(root, 'node_modules', '.tenterhook-lock')
  const wanted = wantedPackages()
  if (stampIs(stamp, wanted)) return
  console.log('Installing what the project needs (once; half a minute or so) …')
  const done = npm(['ci', '--include=dev', '--no-audit', '--no-fund', '--loglevel=error'])
  if (done !== 0) {
    console.error(
      'npm ci failed; what it said stands above. A network to the package registry is needed the first time.',
    )
    process.exit(done)
  }
  writeFileSync(stamp, wanted)
}

function filesBelow(folder) {
  return readdirSync(folder, { withFileTypes: true })
    .flatMap(entry =>
      entry.isDirectory() ? filesBelow(join(folder, entry.name)) : [join(folder, entry.name)],
    )
    .sort()
}

/** What the build is made from; its hash tells a stale build. */
const buildInputs = () => [
  ...filesBelow(join(root, 'src')),
  ...[
    'package.json',
    'package-lock.json',
    'tsconfig.json',
    'tsconfig.build.json',
    'vite.config.ts',
    'vite.web.config.ts',
    'vite.clip.config.ts',
  ].map(name => join(root, name)),
]

const vite = words => tool('vite/bin/vite.js', ['build', '--logLevel', 'warn', ...words])

/** The parts of `dist`, each made anew as a whole. */
const PARTS = {
  cli: () => {
    rmSync(join(root, 'dist', 'chunks'), { recursive: true, force: true })
    return vite([])
  },
  web: () => vite(['--config', 'vite.web.config.ts']),
  clip: () => vite(['--config', 'vite.clip.config.ts']),
  page: () => vite(['--config', 'vite.web.config.ts', '--mode', 'page']),
  types: () => {
    rmSync(join(root, 'dist', 'types'), { recursive: true, force: true })
    return tool('typescript/bin/tsc', ['-p', 'tsconfig.build.json'])
  },
}

/** What the command line and the app of the server are made of: all but what is given to others. */
export const RUNNING = ['cli', 'web', 'clip']

/** Builds the parts of `dist` that are missing or older than their sources; `always` makes all of it anew. */
export function build({ parts = Object.keys(PARTS), always = false } = {}) {
  const dist = join(root, 'dist')
  const wanted = hashOf(buildInputs())
  const stamp = part => join(dist, `.built-${part}`)
  if (always) rmSync(dist, { recursive: true, force: true })
  const stale = parts.filter(part => !stampIs(stamp(part), wanted))
  if (stale.length === 0) return
  console.log('Building …')
  mkdirSync(dist, { recursive: true })
  for (const part of stale) {
    rmSync(stamp(part), { force: true })
    if (PARTS[part]() !== 0) process.exit(1)
    writeFileSync(stamp(part), wanted)
  }
}
