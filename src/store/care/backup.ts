import { createHash } from 'node:crypto'
import { createReadStream, createWriteStream } from 'node:fs'
import { open, rename, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { fileProblem } from '../../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import { ownerOnly } from '../ownerOnly.ts'
import { BACKUP_HEAD_BYTES, backupHead } from './backupHead.ts'

/**
 * A copy of the whole store as of one moment, in one file: a head of 512 bytes (see `backupHead`) and the
 * database. The store may be read and written meanwhile. A file of that name is replaced only by a whole
 * backup.
 */
export async function backup(
  engine: Engine,
  schema: number,
  path: string,
): Promise<Outcome<{ path: string; bytes: number; sha256: string }>> {
  const there = await stat(path).catch(() => null)
  if (there && !there.isFile())
    return wrong({ where: path, what: 'it is not a file.', cure: 'Give the name of a file to make.' })
  const copy = join(dirname(path), `.${newId()}.copy`)
  const half = join(dirname(path), `.${newId()}.part`)
  try {
    await ownerOnly(copy)
    await engine.copyTo(copy)
    const { bytes, sha256 } = await hashOfFile(copy)
    const out = createWriteStream(half, { mode: 0o600 })
    out.write(backupHead({ schema, bytes, sha256, madeAt: new Date().toISOString() }))
    await pipeline(createReadStream(copy), out)
    await syncFile(half)
    await rename(half, path)
    return fine({ path, bytes: bytes + BACKUP_HEAD_BYTES, sha256 })
  } catch (error) {
    if (engine.problemOf(error)) throw error
    return wrong(fileProblem(path, error))
  } finally {
    await rm(copy, { force: true })
    await rm(half, { force: true })
  }
}

async function hashOfFile(path: string): Promise<{ bytes: number; sha256: string }> {
  const hash = createHash('sha256')
  let bytes = 0
  for await (const chunk of createReadStream(path)) {
    hash.update(chunk as Buffer)
    bytes += (chunk as Buffer).length
  }
  return { bytes, sha256: hash.digest('hex') }
}

async function syncFile(path: string): Promise<void> {
  const file = await open(path, 'r+')
  try {
    await file.sync()
  } finally {
    await file.close()
  }
}
