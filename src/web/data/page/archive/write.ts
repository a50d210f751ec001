import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import type { StoreNames } from 'idb'
import { base64 } from '../../../../publish/report/base64.ts'
import { found, type PageDb, pageDb, pageLog, pageSamples } from '../db.ts'
import { longHead, longLog, longSeries } from '../longRecordings.ts'
import { editRow } from './edits.ts'
import * as as from './rows.ts'
import { packedLog, packedSamples, partsOf, type SeriesInChunks, samplesSha256, seriesOf } from './samples.ts'

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
  const entries = await all('recordings')
  for (const entry of entries) {
    const { recording, channels, options, series, parts } = await contentOf(entry.id)
    const details = {
      segments: recording.segments,
      channels: channels.map(({ name, kind, unit }) => ({ name, kind, unit })),
      notes: recording.notes,
      assumptions: recording.assumptions,
      understood: recording.understood,
      ...(recording.tension === undefined ? {} : { tension: recording.tension }),
    }
    const sha256 = await samplesSha256(series)
    yield {
      table: 'recording',
      row: as.recordingRow(entry, { samplesSha256: sha256, logOptions: options, details }),
    }
    for await (const row of packedLog(entry.id, parts)) yield { table: 'recording_log', row }
    for await (const row of packedSamples(entry.id, series)) yield { table: 'recording_samples', row }
    yield { table: 'placement', row: as.placementRow(entry) }
  }
  const byId = new Map(entries.map(entry => [entry.id, entry]))
  for (const one of await all('edits')) yield { table: 'edit', row: editRow(one, byId) }
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

/** What is kept of a recording besides its entry. A long one is gone through chunk by chunk. */
async function contentOf(id: string) {
  const head = await longHead(id)
  if (head === undefined) {
    const recording = await pageSamples(id)
    const { bytes, options } = await pageLog(id)
    const series = seriesOf(recording)
    return { recording, channels: recording.channels, options, series, parts: partsOf(bytes) }
  }
  const { recording, channels, samples, options } = head
  const series: SeriesInChunks = {
    forceUnit: recording.forceUnit,
    count: 2 + channels.length,
    chunks: index => longSeries(id, index, samples),
  }
  return { recording, channels, options, series, parts: longLog(id) }
}
