import { createHash } from 'node:crypto'
import { type Kysely, sql } from 'kysely'
import { faultText, type Problem, problemText } from '../../core/problem.ts'
import { ARCHIVED_TABLES } from '../archive/tables.ts'
import type { Engine } from '../engine/engine.ts'
import { StoreFault } from '../fault.ts'
import { bytesOf } from '../pack/recording.ts'
import type { Recordings, StoredInChunks, StoreFinding } from '../store.ts'

export interface Verified {
  readonly recordings: number
  readonly samples: number
  readonly findings: readonly StoreFinding[]
}

/** Columns that hold JSON; `null` is none. */
const JSON_COLUMNS: Readonly<Record<string, readonly string[]>> = {
  setting: ['value'],
  study: ['failure_modes', 'plan', 'tell', 'films', 'equivalents'],
  rig: ['document'],
  calibration: ['document'],
  daily_check: ['document'],
  recording: ['log_options', 'details'],
  reading: ['adjustments', 'options', 'document'],
}

/** What it means that a row of a table cannot be read as it was written. */
const MEANS: Readonly<Record<string, string>> = {
  setting: 'a setting is lost.',
  study: 'the study cannot be shown as it was; its specimens and recordings are rows of their own.',
  rig: 'the rig cannot be used; recordings that name it keep their samples.',
  calibration: 'the calibration cannot be used.',
  daily_check: 'that day’s check is lost.',
  recording: 'its samples cannot be put together; its log as received may be whole: export it with --as log.',
  reading: 'this reading is lost; the recording is read anew when asked for.',
  photo: 'the picture is lost.',
}

/**
 * Looks at all that is kept: the database's own pages and references, every document, every recording (its
 * log against its hash, every chunk of samples against its checksum, all of them against their hash) and
 * every photo. Damage never ends it: each damaged thing is a finding, with what it means, and the next one is
 * looked at.
 */
export async function verifyStore(
  engine: Engine,
  recordings: Pick<Recordings, 'inChunks' | 'log'>,
  onProgress: (done: number, all: number) => void = () => {},
): Promise<Verified> {
  const findings: StoreFinding[] = []
  const db = engine.db as unknown as Kysely<unknown>
  /** Does one step; where it cannot be done, that is what was found. */
  const step = async <T>(where: string, work: () => Promise<T>): Promise<T | null> => {
    try {
      return await work()
    } catch (error) {
      findings.push({ where, what: damageText(engine, error) })
      return null
    }
  }
  const faults = await step(engine.place, () => engine.faults())
  findings.push(...(faults ?? []).map(what => ({ where: engine.place, what })))

  for (const { name } of ARCHIVED_TABLES)
    for (const column of JSON_COLUMNS[name] ?? [])
      for (const key of (await step(`the table “${name}”`, () => notJson(db, name, column))) ?? [])
        findings.push({
          where: `${name.replace('_', ' ')} “${key}”`,
          what: `its ${column.replace('_', ' ')} cannot be read: ${MEANS[name] ?? 'it is lost.'}`,
        })

  const ids = await step('the list of recordings', () => idsOf(db, 'recording'))
  let samples = 0
  let counted = 0
  for (const [done, id] of (ids ?? []).entries()) {
    onProgress(done, ids?.length ?? 0)
    const where = `recording “${id}”`
    const row = await step(where, () => recordingRow(engine, id))
    if (!row) continue
    counted++
    samples += Number(row.samples)
    if (row.placed === null) findings.push({ where, what: 'it has lost its place in the lists.' })
    await step(where, async () => {
      const found = await recordings.inChunks(id)
      const { problems, sha256 } = found.ok
        ? await lookedAt(found.value)
        : { problems: found.problems, sha256: null }
      findings.push(...problems.map(problem => ({ where, what: problemText(problem) })))
      if (problems.length === 0 && sha256 !== row.samples_sha256)
        findings.push({
          where,
          what: 'its samples do not match their hash: they are not those that were recorded.',
        })
    })
    await step(where, async () => {
      const log = await hashOfLog(recordings.log(id))
      if (log.sha256 !== row.sha256 || log.bytes !== Number(row.log_bytes))
        findings.push({
          where,
          what: `its log does not match its hash (${log.bytes} of ${row.log_bytes} bytes): it is not what was received.`,
        })
    })
  }
  for (const id of (await step('the list of photos', () => idsOf(db, 'photo'))) ?? [])
    await step(`photo “${id}”`, async () => {
      const row = await engine.db
        .selectFrom('photo')
        .select(['sha256', 'bytes'])
        .where('id', '=', id)
        .executeTakeFirst()
      if (row && createHash('sha256').update(row.bytes).digest('hex') !== row.sha256)
        findings.push({
          where: `photo “${id}”`,
          what: `it does not match its hash: ${MEANS.photo}`,
        })
    })
  const all = ids?.length ?? 0
  onProgress(all, all)
  return { recordings: counted, samples, findings: withoutRepeats(findings) }
}

/** Every chunk of the samples against its checksum, and the hash of all; memory holds one of them. */
async function lookedAt({ head, series }: StoredInChunks) {
  const hash = createHash('sha256')
  const problems: Problem[] = []
  for (let index = 0; index < 2 + head.channels.length; index++)
    for await (const chunk of series(index)) {
      if (chunk.ok) hash.update(bytesOf(chunk.value))
      else problems.push(...chunk.problems)
    }
  return { problems, sha256: hash.digest('hex') }
}

const recordingRow = ({ db }: Engine, id: string) =>
  db
    .selectFrom('recording')
    .leftJoin('placement', 'placement.recording_id', 'recording.id')
    .select(['sha256', 'samples_sha256', 'samples', 'log_bytes', 'placement.recording_id as placed'])
    .where('id', '=', id)
    .executeTakeFirst()

async function idsOf(db: Kysely<unknown>, table: string): Promise<string[]> {
  const { rows } = await sql<{ id: unknown }>`select id from ${sql.table(table)} order by id`.execute(db)
  return rows.map(({ id }) => String(id))
}

/** Keys of the rows whose column holds no JSON. */
async function notJson(db: Kysely<unknown>, table: string, column: string): Promise<string[]> {
  const key = table === 'setting' ? 'name' : 'id'
  const bad: string[] = []
  const { rows: keys } = await sql<{
    key: unknown
  }>`select ${sql.ref(key)} as key from ${sql.table(table)}`.execute(db)
  for (const { key: one } of keys) {
    try {
      const { rows } = await sql<{
        text: unknown
      }>`select ${sql.ref(column)} as text from ${sql.table(table)} where ${sql.ref(key)} = ${one}`.execute(
        db,
      )
      const text = rows[0]?.text ?? null
      if (text !== null) JSON.parse(String(text))
    } catch {
      bad.push(String(one))
    }
  }
  return bad
}

function damageText(engine: Engine, error: unknown): string {
  const problem = error instanceof StoreFault ? error.problem : engine.problemOf(error)
  return problem ? `${problem.what} ${problem.cure}` : `it cannot be read (${faultText(error)}).`
}

/** A document that cannot be read is met again where it is used. */
function withoutRepeats(findings: readonly StoreFinding[]): StoreFinding[] {
  const seen = new Set<string>()
  return findings.filter(({ where, what }) => {
    const key = `${where}\n${what}`
    const isNew = !seen.has(key)
    seen.add(key)
    return isNew
  })
}

/** @throws StoreFault where a part is damaged */
async function hashOfLog(log: AsyncIterable<Uint8Array>): Promise<{ sha256: string; bytes: number }> {
  const hash = createHash('sha256')
  let bytes = 0
  for await (const part of log) {
    hash.update(part)
    bytes += part.length
  }
  return { sha256: hash.digest('hex'), bytes }
}
