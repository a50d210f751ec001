import { createHash } from 'node:crypto'
import { createReadStream, createWriteStream } from 'node:fs'
import { mkdir, open, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { fileProblem } from '../../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { StoreFault } from '../fault.ts'
import { newId } from '../ids.ts'
import { type StorePlace, stamped } from '../place.ts'
import { migrate, schemaVersion } from '../schema/migrate.ts'
import { BACKUP_HEAD_BYTES, type BackupHead, readBackupHead } from './backupHead.ts'

export interface Restored {
  /** The store's file. */
  readonly path: string
  /** The backup's date. */
  readonly madeAt: string
  /** Where the store that was there before lies now; `null` where there was none. */
  readonly kept: string | null
}

/**
 * Puts a backup in the place of the store, once all of it is proved: its checksum, its pages and its version.
 * What was there before is kept beside it. Refused while another program has the store open.
 */
export async function restore(place: StorePlace, path: string): Promise<Outcome<Restored>> {
  const head = await readHead(path)
  if (!head.ok) return head
  const fresh = join(place.folder, `.${newId()}.restore`)
  try {
    await mkdir(place.folder, { recursive: true, mode: 0o700 })
    const copied = await copyBody(path, fresh, head.value)
    if (!copied.ok) return copied
    const proved = await prove(place, fresh, path)
    if (!proved.ok) return proved
    const { replaceSqlite } = await import('../engine/sqlite/replace.ts')
    const replaced = await replaceSqlite(place.file, fresh, join(place.folder, stamped('before-restore')))
    return replaced.ok ? fine({ path: place.file, madeAt: head.value.madeAt, ...replaced.value }) : replaced
  } catch (error) {
    if (error instanceof StoreFault) return wrong(error.problem)
    return wrong(fileProblem(path, error))
  } finally {
    for (const tail of ['', '-wal', '-shm', '-journal']) await rm(fresh + tail, { force: true })
  }
}

async function readHead(path: string): Promise<Outcome<BackupHead>> {
  try {
    const file = await open(path, 'r')
    try {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(BACKUP_HEAD_BYTES), 0, BACKUP_HEAD_BYTES, 0)
      const head = readBackupHead(buffer.subarray(0, bytesRead))
      return head
        ? fine(head)
        : wrong({
            where: path,
            what: 'it is not a backup of a Tenterhook store.',
            cure: 'Name a file that `tenterhook backup` made.',
          })
    } finally {
      await file.close()
    }
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

async function copyBody(path: string, fresh: string, head: BackupHead): Promise<Outcome<null>> {
  const hash = createHash('sha256')
  let bytes = 0
  await pipeline(
    createReadStream(path, { start: BACKUP_HEAD_BYTES }),
    async function* (chunks: AsyncIterable<Buffer>) {
      for await (const chunk of chunks) {
        hash.update(chunk)
        bytes += chunk.length
        yield chunk
      }
    },
    createWriteStream(fresh, { mode: 0o600, flush: true }),
  )
  if (bytes === head.bytes && hash.digest('hex') === head.sha256) return fine(null)
  return wrong({
    where: path,
    what:
      bytes < head.bytes
        ? `it is cut short: ${bytes} bytes of ${head.bytes}.`
        : 'it does not match its checksum: it was changed or damaged after it was made.',
    cure: 'Take another backup. The store has not been touched.',
  })
}

/** Opens the copy, asks the database what it finds wrong, and brings it up to date. */
async function prove(place: StorePlace, fresh: string, path: string): Promise<Outcome<null>> {
  const { openEngine } = await import('../engine/open.ts')
  const engine = await openEngine({ ...place, file: fresh })
  try {
    const faults = (await schemaVersion(engine)) === 0 ? ['it holds no store'] : await engine.faults()
    if (faults.length > 0)
      return wrong({
        where: path,
        what: `the database in it is damaged (${faults.slice(0, 3).join('; ')}).`,
        cure: 'Take another backup. The store has not been touched.',
      })
    await migrate(engine)
    return fine(null)
  } finally {
    await engine.close()
  }
}
