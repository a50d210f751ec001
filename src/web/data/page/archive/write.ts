import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import type { StoreNames } from 'idb'
import { base64 } from '../../../../publish/report/base64.ts'
import { found, type PageDb, pageDb } from '../db.ts'
import * as as from './rows.ts'
import { packedLog, packedSamples } from './samples.ts'

/**
 * All that the page keeps in one file, in the form of an archive of a store: gzipped JSON lines, which
 * `tenterhook import --all` takes in, and any page of this kind.
 */
export async function writeArchive(): Promise<Blob> {
  const lines = archiveLines()
  const text = new TextEncoder()
  const stream = new ReadableStream<Uint8Array<ArrayBuffer>>({
    async pull(controller) {
      const { value, done } = await lines.next()
      if (done) controller.close()
      else controller.enqueue(text.encode(value))
    },
  })
  const zipped = new Response(stream.pipeThrough(new CompressionStream('gzip')))
  return new Blob([await zipped.blob()], { type: 'application/gzip' })
}

async function* archiveLines(): AsyncGenerator<string, undefined> {
  const hash = sha256.create()
  const text = new TextEncoder()
  let rows = 0
  const line = (value: unknown): string => {
    const written = `${JSON.stringify(value)}\n`
    hash.update(text.encode(written))
    return written
  }
  yield line({ document: 'tenterhook.archive', version: 1, schema: as.ARCHIVE_SCHEMA })
  for await (const { table, row } of archiveRows()) {
    rows++
    const cells = Object.entries(row).map(([column, cell]) => [
      column,
      cell instanceof Uint8Array ? { base64: base64(cell) } : cell,
    ])
    yield line({ table, row: Object.fromEntries(cells) })
  }
  yield `${JSON.stringify({ rows, sha256: bytesToHex(hash.digest()) })}\n`
  return undefined
}

/** Each table after those that its rows name. */
async function* archiveRows(): AsyncGenerator<{ table: string; row: as.Row }> {
  const db = await pageDb()
  const all = <N extends StoreNames<PageDb>>(name: N) => db.getAll(name)
  const names = await db.getAllKeys('settings')
  for (const [i, value] of (await all('settings')).entries())
    yield { table: 'setting', row: { name: names[i]!, value: JSON.stringify(value) } }
  for (const one of await all('studies')) yield { table: 'study', row: as.studyRow(one) }
  for (const one of await all('variants')) yield { table: 'variant', row: as.variantRow(one) }
  for (const one of await all('specimens')) yield { table: 'specimen', row: as.specimenRow(one) }
  for (const one of await all('rigs')) yield { table: 'rig', row: as.rigRow(one) }
  for (const one of await all('calibrations')) yield { table: 'calibration', row: as.calibrationRow(one) }
  for (const one of await all('checks')) yield { table: 'daily_check', row: as.checkRow(one) }
  for (const entry of await all('recordings')) {
    const recording = found(await db.get('samples', entry.id), 'recording', entry.id)
    const { bytes, options } = found(await db.get('logs', entry.id), 'recording', entry.id)
    const samples = packedSamples(entry.id, recording)
    const details = {
      segments: recording.segments,
      channels: recording.channels.map(({ name, kind, unit }) => ({ name, kind, unit })),
      notes: recording.notes,
      assumptions: recording.assumptions,
      understood: recording.understood,
      ...(recording.tension === undefined ? {} : { tension: recording.tension }),
    }
    yield {
      table: 'recording',
      row: as.recordingRow(entry, { samplesSha256: samples.sha256, logOptions: options, details }),
    }
    for (const row of packedLog(entry.id, bytes)) yield { table: 'recording_log', row }
    for (const row of samples.rows) yield { table: 'recording_samples', row }
    yield { table: 'placement', row: as.placementRow(entry) }
  }
  for (const reading of await all('readings')) {
    yield { table: 'reading', row: as.readingRow(reading) }
    for (const [place, recordingId] of reading.recordingIds.entries())
      yield {
        table: 'reading_recording',
        row: { reading_id: reading.id, place, recording_id: recordingId },
      }
  }
  for (const one of await all('notes')) yield { table: 'note', row: as.noteRow(one) }
  for (const photo of await all('photos')) {
    const content = found(await db.get('pictures', photo.id), 'photo', photo.id)
    yield { table: 'photo', row: as.photoRow(photo, new Uint8Array(await content.arrayBuffer())) }
  }
}
