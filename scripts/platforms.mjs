// `npm run platforms`: is there a compiled part for every platform that is promised? Installs the package's
// dependencies for each, by the lock file and without running anything, and looks for the parts; those of the
// tools that build and test are looked up in the lock file. `--all` installs the tools for each platform as
// well.
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { npmCommand, root, run } from './prepare.mjs'

const PLATFORMS = [
  { os: 'linux', cpu: 'x64', libc: 'glibc' },
  { os: 'linux', cpu: 'arm64', libc: 'glibc' },
  { os: 'linux', cpu: 'x64', libc: 'musl' },
  { os: 'linux', cpu: 'arm64', libc: 'musl' },
  { os: 'darwin', cpu: 'x64' },
  { os: 'darwin', cpu: 'arm64' },
  { os: 'win32', cpu: 'x64' },
  { os: 'win32', cpu: 'arm64' },
]

/** Where each dependency keeps its compiled part: what follows must be found in a path below node_modules. */
const PARTS = {
  '@photostructure/sqlite': ({ os, cpu, libc = 'glibc' }) => `/prebuilds/${os}-${cpu}/.*[.]${libc}[.]node`,
  '@serialport/bindings-cpp': ({ os, cpu, libc }) =>
    `/prebuilds/${os}-([a-z0-9]+[+])?${cpu}([+].*)?/[^/]*${libc ? `[.]${libc}` : ''}[.]node`,
  '@resvg/resvg-js': ({ os, cpu, libc }) =>
    `-${os}-${cpu}(-${{ glibc: 'gnu', musl: 'musl' }[libc] ?? 'msvc'})?/.*[.]node`,
}

const all = process.argv.includes('--all')
const { dependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))
const { packages } = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'))
const nameOf = ({ os, cpu, libc }) => [os, cpu, libc].filter(Boolean).join(' ')
const missing = []

for (const name of Object.keys(dependencies))
  if (!PARTS[name]) missing.push(`${name}: where it keeps its compiled part is not known here`)

function fits(entry, { os, cpu, libc }) {
  const allows = (list, value) => !list || (value !== undefined && list.includes(value))
  return allows(entry.os, os) && allows(entry.cpu, cpu) && (!libc || allows(entry.libc, libc))
}

/** A package that leaves its compiled part to one package for each platform names them as optional. */
for (const [path, entry] of Object.entries(packages)) {
  const siblings = Object.keys(entry.optionalDependencies ?? {})
    .map(name => packages[`${path}/node_modules/${name}`] ?? packages[`node_modules/${name}`])
    .filter(sibling => sibling?.os && sibling.cpu)
  if (siblings.length < 3) continue
  for (const platform of PLATFORMS)
    if (!siblings.some(sibling => fits(sibling, platform)))
      missing.push(
        `${path.replace(/^.*node_modules\//, '')}: nothing in the lock file for ${nameOf(platform)}`,
      )
}

for (const platform of PLATFORMS) {
  const folder = mkdtempSync(join(tmpdir(), 'tenterhook-platform-'))
  try {
    for (const file of ['package.json', 'package-lock.json', '.npmrc'])
      cpSync(join(root, file), join(folder, file))
    const [command, ...first] = npmCommand()
    const wanted = Object.entries(platform).map(([option, value]) => `--${option}=${value}`)
    const scope = all ? ['--include=dev'] : ['--omit=dev']
    const quiet = ['--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error']
    const words = ['ci', '--prefix', folder, ...wanted, ...scope, ...quiet]
    if (run(command, [...first, ...words], { quiet: true }) !== 0) {
      missing.push(`${nameOf(platform)}: npm ci failed`)
      continue
    }
    const files = readdirSync(join(folder, 'node_modules'), { recursive: true }).map(path =>
      `/${path}`.replaceAll('\\', '/'),
    )
    for (const [name, part] of Object.entries(PARTS)) {
      const pattern = new RegExp(`^/${name}${part(platform)}$`)
      if (!files.some(path => pattern.test(path)))
        missing.push(`${name}: no compiled part for ${nameOf(platform)}`)
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

for (const line of missing) console.error(line)
if (missing.length === 0) console.log(`Compiled parts for ${PLATFORMS.map(nameOf).join(', ')} are there.`)
process.exitCode = missing.length === 0 ? 0 : 1
