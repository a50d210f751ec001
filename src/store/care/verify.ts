import { createHash } from 'node:crypto'
import { problemText } from '../../core/problem.ts'
import type { Engine } from '../engine/engine.ts'
import { StoreFault } from '../fault.ts'
import { samplesSha256 } from '../pack/recording.ts'
import type { Recordings, StoreFinding } from '../store.ts'

export interface Verified {
  readonly recordings: number
  readonly samples: number
  readonly findings: readonly StoreFinding[]
}

/**
 * Looks at all that is kept: the database's own pages and references, then every recording (its log against its
 * hash, every chunk of samples against its checksum, all of them against their hash) and every photo.
 */
export async function verifyStore(
  engine: Engine,
  recordings: Pick<Recordings, 'load' | 'log'>,
  onProgress: (done: number, all: number) => void = () => {},
): Promise<Verified> {
  const { db } = engine
  const findings: StoreFinding[] = (await engine.faults()).map(what => ({ where: engine.place, what }))
  const rows = await db
    .selectFrom('recording')
    .leftJoin('placement', 'placement.recording_id', 'recording.id')
    .select(['id', 'sha256', 'samples_sha256', 'samples', 'log_bytes', 'placement.recording_id as placed'])
    .orderBy('id')
    .execute()
  let samples = 0
  for (const [done, row] of rows.entries()) {
    onProgress(done, rows.length)
    samples += row.samples
    const where = `recording “${row.id}”`
    if (row.placed === null) findings.push({ where, what: 'it has lost its place in the lists.' })
    const loaded = await recordings.load(row.id)
    if (!loaded.ok) findings.push(...loaded.problems.map(problem => ({ where, what: problemText(problem) })))
    else {
      const { timeS, forceN, channels } = loaded.value
      if (samplesSha256([timeS, forceN, ...channels.map(channel => channel.values)]) !== row.samples_sha256)
        findings.push({ where, what: 'its samples do not match their hash.' })
    }
    const log = await hashOfLog(recordings.log(row.id))
    if (log.damage !== null) findings.push({ where, what: log.damage })
    else if (log.sha256 !== row.sha256 || log.bytes !== Number(row.log_bytes))
      findings.push({
        where,
        what: `its log does not match its hash (${log.bytes} of ${row.log_bytes} bytes).`,
      })
  }
  const photos = await db.selectFrom('photo').select(['id', 'sha256']).orderBy('id').execute()
  for (const { id, sha256 } of photos) {
    const row = await db.selectFrom('photo').select('bytes').where('id', '=', id).executeTakeFirst()
    if (row && createHash('sha256').update(row.bytes).digest('hex') !== sha256)
      findings.push({ where: `photo “${id}”`, what: 'it does not match its hash.' })
  }
  onProgress(rows.length, rows.length)
  return { recordings: rows.length, samples, findings }
}

async function hashOfLog(
  log: AsyncIterable<Uint8Array>,
): Promise<{ sha256: string; bytes: number; damage: string | null }> {
  const hash = createHash('sha256')
  let bytes = 0
  try {
    for await (const part of log) {
      hash.update(part)
      bytes += part.length
    }
  } catch (error) {
    if (error instanceof StoreFault) return { sha256: '', bytes, damage: error.problem.what }
    throw error
  }
  return { sha256: hash.digest('hex'), bytes, damage: null }
}
