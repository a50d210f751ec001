// Installs and builds what is missing or stale. Plain JavaScript: it runs before anything is installed.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
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

function npm(args) {
  // Under `npm start` npm tells where it lives; run directly, fall back to the command on the path.
  const script = process.env.npm_execpath
  if (script && /\.[cm]?js$/.test(script)) return run(process.execPath, [script, ...args])
  return process.platform === 'win32' ? run('cmd', ['/c', 'npm', ...args]) : run('npm', args)
}

const hashOf = paths => {
  const hash = createHash('sha256')
  for (const path of paths)
    hash.update(relative(root, path)).update('\0').update(readFileSync(path)).update('\0')
  return hash.digest('hex')
}

const stampIs = (stamp, value) => existsSync(stamp) && readFileSync(stamp, 'utf8') === value

/** `npm ci` when node_modules is missing or was made from another lock file. */
export function install() {
  const stamp = join(root, 'node_modules', '.tenterhook-lock')
  const wanted = hashOf([join(root, 'package-lock.json')])
  if (stampIs(stamp, wanted)) return
  console.log('Installing what the project needs (once; about a minute) …')
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
    'package-lock.json',
    'tsconfig.json',
    'tsconfig.build.json',
    'vite.config.ts',
    'vite.web.config.ts',
    'vite.clip.config.ts',
  ].map(name => join(root, name)),
]

/** Builds `dist` when it is missing or older than its sources. */
export function build({ always = false } = {}) {
  const stamp = join(root, 'dist', '.built')
  const wanted = hashOf(buildInputs())
  if (!always && stampIs(stamp, wanted)) return
  console.log('Building …')
  if (tool('vite/bin/vite.js', ['build', '--logLevel', 'warn', '--emptyOutDir']) !== 0) process.exit(1)
  if (tool('typescript/bin/tsc', ['-p', 'tsconfig.build.json']) !== 0) process.exit(1)
  const web = ['build', '--config', 'vite.web.config.ts', '--logLevel', 'warn']
  if (tool('vite/bin/vite.js', web) !== 0) process.exit(1)
  if (tool('vite/bin/vite.js', [...web, '--mode', 'page']) !== 0) process.exit(1)
  const clip = ['build', '--config', 'vite.clip.config.ts', '--logLevel', 'warn']
  if (tool('vite/bin/vite.js', clip) !== 0) process.exit(1)
  mkdirSync(join(root, 'dist'), { recursive: true })
  writeFileSync(stamp, wanted)
}
