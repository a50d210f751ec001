import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { toldHash } from '../../src/cli/toldHash.ts'

const folder = mkdtempSync(join(tmpdir(), 'told-hash-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const log = join(folder, 'log.csv')
writeFileSync(log, 'time_s,force_N\n0,1\n')
const { dev, ino, size, mtimeMs } = statSync(log)
const sha256 = 'ab'.repeat(32)

/** What is made of a text that stands on the pipe. */
async function told(text: string): Promise<string | null> {
  const path = join(folder, 'pipe')
  writeFileSync(path, text)
  const pipe = openSync(path, 'r')
  process.env.TENTERHOOK_HASH_PIPE = String(pipe)
  try {
    return await toldHash(statSync(log))
  } finally {
    closeSync(pipe)
  }
}

test('a hash that is told of the file as it stands is taken, once', async () => {
  expect(await told(JSON.stringify({ dev, ino, size, mtimeMs, sha256 }))).toBe(sha256)
  expect(process.env.TENTERHOOK_HASH_PIPE).toBeUndefined()
  expect(toldHash(statSync(log))).toBeNull()
})

test.each([
  ['of another file', JSON.stringify({ dev, ino: ino + 1, size, mtimeMs, sha256 })],
  ['of the file before it grew', JSON.stringify({ dev, ino, size: size - 1, mtimeMs, sha256 })],
  [
    'of the file before it was written again',
    JSON.stringify({ dev, ino, size, mtimeMs: mtimeMs - 1, sha256 }),
  ],
  ['that is no hash', JSON.stringify({ dev, ino, size, mtimeMs, sha256: 'abc' })],
  ['cut short', JSON.stringify({ dev, ino, size, mtimeMs, sha256 }).slice(0, -5)],
  ['not at all', ''],
  ['as nothing', 'null'],
])('a hash that is told %s is not taken', async (_, text) => {
  expect(await told(text)).toBeNull()
})

test('a pipe that is none is not waited for', async () => {
  process.env.TENTERHOOK_HASH_PIPE = '9999'
  expect(await toldHash(statSync(log))).toBeNull()
  process.env.TENTERHOOK_HASH_PIPE = 'words'
  expect(toldHash(statSync(log))).toBeNull()
})
