// `npm run schemas`: writes schemas/*.json from the code. `--check` only tells whether they are those of the
// code.
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { build, install, root } from './prepare.mjs'

install()
build({ parts: ['cli'] })
const { jsonSchemas } = await import('../dist/schemas.js')
const folder = join(root, 'schemas')
const wanted = new Map(
  Object.entries(jsonSchemas()).map(([name, schema]) => [
    `${name}.json`,
    `${JSON.stringify(schema, null, 2)}\n`,
  ]),
)
mkdirSync(folder, { recursive: true })
const there = readdirSync(folder).filter(name => name.endsWith('.json'))

if (process.argv.includes('--check')) {
  const stale = [
    ...there.filter(name => !wanted.has(name)),
    ...[...wanted]
      .filter(
        ([name, text]) =>
          !existsSync(join(folder, name)) || readFileSync(join(folder, name), 'utf8') !== text,
      )
      .map(([name]) => name),
  ]
  if (stale.length > 0) {
    console.error(`schemas/ is not that of the code: ${stale.join(', ')}. Run: npm run schemas`)
    process.exitCode = 1
  }
} else {
  for (const name of there) if (!wanted.has(name)) rmSync(join(folder, name))
  for (const [name, text] of wanted) writeFileSync(join(folder, name), text)
  console.log(`${wanted.size} schemas written to schemas/`)
}
