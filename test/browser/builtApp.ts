import { execFile } from 'node:child_process'
import { createHash } from 'node:crypto'
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
} from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'

const root = fileURLToPath(new URL('../../', import.meta.url))
const cache = join(root, 'node_modules/.cache/tenterhook')

/** What the app is built from. Of the server’s code only the desk of a line is in it. */
const SOURCES = [
  'src/web',
  'src/core',
  'src/logs',
  'src/capture',
  'src/publish',
  'src/server/desk',
  'vite.web.config.ts',
  'package-lock.json',
]
const WAIT_MS = 200
const LONGEST_BUILD_MS = 180_000
/** Builds that nothing has used for so long are thrown away. */
const UNUSED_MS = 3_600_000

/**
 * The folder of the app as built from the sources of this moment: `server` for the server, `page` for the one HTML
 * file. It is built once; test files that run beside each other, and later runs of the same sources, use the same one.
 */
export async function builtApp(kind: 'server' | 'page' = 'server'): Promise<string> {
  const folder = join(cache, `test-${kind}-${sourcesHash()}`)
  const lock = `${folder}.lock`
  const until = Date.now() + LONGEST_BUILD_MS
  mkdirSync(cache, { recursive: true })
  while (!existsSync(folder)) {
    if (isFree(lock)) {
      try {
        await build(kind, folder)
      } finally {
        rmSync(lock, { recursive: true, force: true })
      }
    } else if (Date.now() > until) throw new Error(`no build came to be at ${folder}; remove ${lock}`)
    else await pause(WAIT_MS)
  }
  utimesSync(folder, new Date(), new Date())
  return folder
}

function isFree(lock: string): boolean {
  try {
    mkdirSync(lock)
    return true
  } catch {
    const made = statSync(lock, { throwIfNoEntry: false })?.mtimeMs ?? Date.now()
    // Left behind by a run that was killed.
    if (Date.now() - made > LONGEST_BUILD_MS) rmSync(lock, { recursive: true, force: true })
    return false
  }
}

async function build(kind: 'server' | 'page', folder: string): Promise<void> {
  for (const name of readdirSync(cache)) {
    const old = join(cache, name)
    if (!/^test-(server|page)-/.test(name) || name.endsWith('.lock')) continue
    if (Date.now() - (statSync(old, { throwIfNoEntry: false })?.mtimeMs ?? Date.now()) > UNUSED_MS)
      rmSync(old, { recursive: true, force: true })
  }
  const unfinished = `${folder}.${process.pid}`
  const words = ['build', '--config', 'vite.web.config.ts', '--outDir', unfinished, '--logLevel', 'warn']
  await promisify(execFile)(
    process.execPath,
    [join(root, 'node_modules/vite/bin/vite.js'), ...words, ...(kind === 'page' ? ['--mode', 'page'] : [])],
    { cwd: root, timeout: LONGEST_BUILD_MS, env: { ...process.env, NODE_ENV: 'production' } },
  )
  renameSync(unfinished, folder)
}

function sourcesHash(): string {
  const hash = createHash('sha256')
  for (const path of SOURCES.flatMap(source => filesOf(source)).sort()) {
    hash
      .update(path)
      .update('\0')
      .update(readFileSync(join(root, path)))
  }
  return hash.digest('hex').slice(0, 16)
}

const filesOf = (path: string): string[] =>
  statSync(join(root, path)).isDirectory()
    ? readdirSync(join(root, path)).flatMap(name => filesOf(join(path, name)))
    : [path]
