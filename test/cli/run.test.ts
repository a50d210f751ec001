import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { EXIT } from '../../src/cli/io.ts'
import { ENGINE_VERSION } from '../../src/core/version.ts'
import { ran } from './fakeIo.ts'

test('without a command the help comes, and the exit code says that something was missing', async () => {
  const { code, out } = await ran([])
  expect(code).toBe(EXIT.usage)
  expect(out).toContain('usage: tenterhook COMMAND')
})

test('help is no failure, and says that nothing is rated', async () => {
  const { code, out } = await ran(['--help'])
  expect(code).toBe(EXIT.ok)
  expect(out).toContain('do not rate lifting')
})

test('an unknown command is told with those there are, its control characters taken out', async () => {
  const { code, err } = await ran(['re\u001b[31mad'])
  expect(code).toBe(EXIT.usage)
  expect(err).toContain('read')
  expect(err).not.toContain('\u001b')
})

test('the version is that of the package', async () => {
  const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
    version: string
  }
  expect(ENGINE_VERSION).toBe(version)
  expect((await ran(['--version'])).out).toBe(`${version}\n`)
})

test('every command has a help with examples or options, and exits well', async () => {
  const { out } = await ran(['--help'])
  const names = [...out.matchAll(/^ {2}([a-z]+) /gm)].map(match => match[1]!)
  expect(names).toContain('read')
  for (const name of names) {
    const help = await ran([name, '--help'])
    expect(help.code, name).toBe(EXIT.ok)
    expect(help.out, name).toContain(`tenterhook ${name}`)
  }
})

test('an option that is not there is a matter of usage', async () => {
  const { code, err } = await ran(['read', '--nothing', 'x.csv'])
  expect(code).toBe(EXIT.usage)
  expect(err).toContain('--nothing')
})
