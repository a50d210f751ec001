import type { Recording } from '../../../../core/recording.ts'
import type { LogOptions } from '../../../../logs/index.ts'
import type { ImportedArchive, Rig, Specimen, Study, Variant } from '../../../../server/apiTypes.ts'
import { sha256Hex } from '../../../engine/sha256.ts'
import { got, Trouble } from '../../trouble.ts'
import { type KeptEntry, writing } from '../db.ts'
import { editOf } from './edits.ts'
import { readArchive } from './read.ts'
import * as as from './rows.ts'
import { samplesSha256, unpackedLog, unpackedSeries } from './samples.ts'

/** A recording of an archive, its log and samples proved against their hashes. */
interface Proved {
  readonly entry: KeptEntry
  readonly recording: Recording
  readonly log: { readonly bytes: Uint8Array<ArrayBuffer>; readonly options: LogOptions }
}

type Details = Omit<
  Recording,
  'name' | 'sha256' | 'timeS' | 'forceN' | 'forceUnit' | 'timeFrom' | 'channels'
> & { readonly channels: readonly Omit<Recording['channels'][number], 'values'>[] }

const STORES = [
  ...(['settings', 'studies', 'variants', 'specimens', 'rigs', 'calibrations', 'checks'] as const),
  ...(['recordings', 'samples', 'logs', 'edits', 'readings', 'notes', 'photos', 'pictures'] as const),
] as const

/**
 * Adds all of an archive that is not here yet; what is here stays as it is. Proved to the last sample before anything is
 * added, then all of it or nothing. A study, rig, variant or specimen whose name is taken gets a number behind it.
 * @throws Trouble where it is damaged, of another version, or at odds with what is here
 */
export async function takeArchive(file: File): Promise<ImportedArchive> {
  const tables = got(await readArchive(file))
  const rows = (table: string): readonly as.Row[] => tables.get(table) ?? []
  let recordings: Proved[]
  try {
    recordings = await provedRecordings(rows)
  } catch (error) {
    throw new Trouble([
      {
        where: file.name,
        what: `${(error as Error).message}.`,
        cure: 'Save it again where it came from, or take another. Nothing here was touched.',
      },
    ])
  }
  const linked = grouped(rows('reading_recording'), 'reading_id')
  let added = 0
  let known = 0
  const renamed: string[] = []
  return writing(STORES, async change => {
    const store = <N extends (typeof STORES)[number]>(name: N) => change.objectStore(name)
    const free = async <T extends Study | Rig | Variant | Specimen>(
      one: T,
      others: readonly { readonly name: string }[],
    ): Promise<T> => {
      const taken = new Set(others.map(({ name }) => name))
      let name = one.name
      for (let number = 2; taken.has(name); number++) name = `${one.name} (${number})`
      if (name !== one.name) renamed.push(`${one.name} → ${name}`)
      return { ...one, name }
    }
    /** Whether it is here already. */
    const isKnown = async (name: (typeof STORES)[number], key: string): Promise<boolean> => {
      if ((await store(name).getKey(key)) === undefined) {
        added++
        return false
      }
      known++
      return true
    }
    for (const row of rows('setting')) {
      const name = String(row.name)
      if (!(await isKnown('settings', name)))
        await store('settings').add(JSON.parse(String(row.value)) as unknown, name)
    }
    for (const one of rows('study').map(as.studyOf))
      if (!(await isKnown('studies', one.id)))
        await store('studies').add(await free(one, await store('studies').getAll()))
    for (const one of rows('variant').map(as.variantOf))
      if (!(await isKnown('variants', one.id)))
        await store('variants').add(
          await free(one, await store('variants').index('studyId').getAll(one.studyId)),
        )
    for (const one of rows('specimen').map(as.specimenOf))
      if (!(await isKnown('specimens', one.id)))
        await store('specimens').add(
          await free(one, await store('specimens').index('studyId').getAll(one.studyId)),
        )
    for (const one of rows('rig').map(as.rigOf))
      if (!(await isKnown('rigs', one.id)))
        await store('rigs').add(await free(one, await store('rigs').getAll()))
    for (const one of rows('calibration').map(as.calibrationOf))
      if (!(await isKnown('calibrations', one.id))) await store('calibrations').add(one)
    for (const one of rows('daily_check').map(as.checkOf))
      if (!(await isKnown('checks', one.id))) await store('checks').add(one)
    for (const { entry, recording, log } of recordings) {
      const there = await store('recordings').get(entry.id)
      if (there && there.sha256 !== entry.sha256)
        throw new Trouble([
          {
            where: `${file.name}, recording “${entry.name}”`,
            what: 'another recording of the same id is here.',
            cure: 'Open it in a browser profile of its own.',
          },
        ])
      if (await isKnown('recordings', entry.id)) continue
      await store('recordings').add(entry)
      await store('samples').add(recording, entry.id)
      await store('logs').add(log, entry.id)
    }
    for (const one of rows('edit').map(editOf))
      if (!(await isKnown('edits', one.id))) await store('edits').add(one)
    for (const row of rows('reading')) {
      const links = [...(linked.get(row.id ?? null) ?? [])].sort((a, b) => Number(a.place) - Number(b.place))
      const one = as.readingOf(
        row,
        links.map(link => String(link.recording_id)),
      )
      if (!(await isKnown('readings', one.id))) await store('readings').add(one)
    }
    for (const one of rows('note').map(as.noteOf))
      if (!(await isKnown('notes', one.id))) await store('notes').add(one)
    for (const row of rows('photo')) {
      const bytes = (row.bytes as Uint8Array).slice()
      const photo = as.photoOf(row, bytes.length)
      if (await isKnown('photos', photo.id)) continue
      await store('photos').add(photo)
      await store('pictures').add(new Blob([bytes], { type: photo.mime }), photo.id)
    }
    return { added, known, renamed }
  })
}

/** @throws Error that says which recording is damaged */
async function provedRecordings(rows: (table: string) => readonly as.Row[]): Promise<Proved[]> {
  const logs = grouped(rows('recording_log'), 'recording_id')
  const chunks = grouped(rows('recording_samples'), 'recording_id')
  const placements = new Map(rows('placement').map(row => [row.recording_id, row]))
  for (const row of rows('photo'))
    if (sha256Hex(row.bytes as Uint8Array) !== row.sha256)
      throw new Error(`the photo “${String(row.name)}” does not match its hash`)
  const proved: Proved[] = []
  for (const row of rows('recording')) {
    const id = String(row.id)
    const damaged = (what: string) => new Error(`the recording “${String(row.name)}” is damaged: ${what}`)
    const placement = placements.get(id)
    if (!placement) throw damaged('it says nothing of where it belongs')
    const entry = as.entryOf(row, placement)
    const { channels, ...details } = JSON.parse(String(row.details)) as Details
    try {
      const inChunks = grouped(chunks.get(id) ?? [], 'series')
      const all = Array.from({ length: 2 + channels.length }, (_, index) =>
        unpackedSeries(inChunks.get(index) ?? [], entry.samples),
      )
      const series = { forceUnit: null, count: all.length, chunks: (one: number) => [all[one]!] }
      if ((await samplesSha256(series)) !== row.samples_sha256)
        throw new Error('its samples do not match their hash')
      const bytes = unpackedLog(logs.get(id) ?? [], entry.logBytes)
      if (sha256Hex(bytes) !== entry.sha256) throw new Error('its log does not match its hash')
      const [timeS, forceN, ...others] = all as [Float64Array, Float64Array, ...Float64Array[]]
      const recording: Recording = {
        ...details,
        name: entry.name,
        sha256: entry.sha256,
        timeS,
        forceN,
        forceUnit: (entry.forceUnit === '' ? null : entry.forceUnit) as Recording['forceUnit'],
        timeFrom: entry.timeFrom as Recording['timeFrom'],
        channels: channels.map((channel, i) => ({ ...channel, values: others[i]! })),
      }
      const options = JSON.parse(String(row.log_options)) as LogOptions
      proved.push({ entry, recording, log: { bytes, options } })
    } catch (error) {
      throw damaged((error as Error).message)
    }
  }
  return proved
}

function grouped(rows: readonly as.Row[], column: string): ReadonlyMap<as.Cell, readonly as.Row[]> {
  const groups = new Map<as.Cell, as.Row[]>()
  for (const row of rows) {
    const key = row[column] ?? null
    const group = groups.get(key)
    if (group) group.push(row)
    else groups.set(key, [row])
  }
  return groups
}
