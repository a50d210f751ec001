// `npm run release -- 1.2.3`: writes the version where it stands (package.json, the lock file, the engine)
// and dates what CHANGELOG.md has gathered under `## Next`. It commits and publishes nothing: it says what is
// left to do.
import { spawnSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { npmCommand, root, run } from './prepare.mjs'
import { comesAfter, NEXT, releasedChangelog, versionFile } from './releaseText.mjs'

function refuse(why) {
  console.error(why)
  process.exit(2)
}

const version = process.argv[2] ?? ''
const before = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version
if (!comesAfter(version, before))
  refuse(`usage: npm run release -- VERSION, three numbers as in 1.2.3, later than ${before}`)

const changes = spawnSync('git', ['status', '--porcelain'], { cwd: root, encoding: 'utf8' })
if (changes.status !== 0 || changes.stdout !== '')
  refuse('There are changes that are not committed. Commit them first: a release is a commit of its own.')

const changelog = join(root, 'CHANGELOG.md')
const day = new Date().toISOString().slice(0, 10)
const dated = releasedChangelog(readFileSync(changelog, 'utf8'), version, day)
if (dated === null) refuse(`CHANGELOG.md has nothing under “${NEXT}”: say there what changes for the user.`)
const engine = join(root, 'src', 'core', 'version.ts')
const told = versionFile(readFileSync(engine, 'utf8'), version)
if (told === null) refuse('src/core/version.ts has no line that tells ENGINE_VERSION.')

const [command, ...first] = npmCommand()
if (run(command, [...first, 'version', version, '--no-git-tag-version', '--ignore-scripts']) !== 0)
  process.exit(1)
writeFileSync(changelog, dated)
writeFileSync(engine, told)
console.log(`Version ${version} is written. What is left:
  .ci/run
  git commit -a -m "Release ${version}" && git tag v${version}
  npm publish
and give dist/page/page.html to those who want the app as one file.`)
