import { createHash } from 'node:crypto'
import { setImmediate as turn } from 'node:timers/promises'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import { thinned } from '../../core/signal/thin.ts'
import { type LogOptions, openLog, readLog, startedAtOf } from '../../logs/index.ts'
import type { RecordingEntry } from '../../store/index.ts'
import { logQuerySchema, newRecordingQuerySchema } from '../requests.ts'
import { answer, bytesRoute, given, LOG_BYTES, type Route } from '../route.ts'
import { keepReading } from '../specimenReading.ts'

/** What was understood of a log that was sent, before it is kept. */
export interface LogPreview {
  readonly name: string
  readonly sha256: string
  readonly understood: string
  readonly samples: number
  readonly startS: number | null
  readonly endS: number | null
  readonly forceUnit: Recording['forceUnit']
  readonly timeFrom: Recording['timeFrom']
  readonly channels: readonly { readonly name: string; readonly kind: string; readonly unit: string }[]
  readonly assumptions: Recording['assumptions']
  readonly notes: Recording['notes']
  readonly curve: { readonly timeS: readonly number[]; readonly forceN: readonly (number | null)[] }
  /** The recording that this log already is in the store. */
  readonly known: RecordingEntry | null
}

const MOST_NOTES = 200
const CURVE_PIXELS = 800
/** Bytes parsed in one go: a few milliseconds. */
const AT_ONCE_BYTES = 1024 * 1024

export const logRoutes: readonly Route[] = [
  bytesRoute({
    method: 'POST',
    path: '/api/logs/preview',
    beside: true,
    summary: 'What is understood of a log; nothing is kept',
    answers: 'LogPreview',
    query: logQuerySchema,
    bytes: LOG_BYTES,
    async run({ bench, query, body }) {
      const { name, ...options } = query
      const recording = await readGently(body, bareName(name), given(options))
      if (!recording.ok) return answer(recording)
      const sha256 = createHash('sha256').update(body).digest('hex')
      const [known = null] = await bench.store.recordings.bySha256(sha256)
      return answer(fine(previewOf(recording.value, sha256, known)))
    },
  }),
  bytesRoute({
    method: 'POST',
    path: '/api/recordings',
    beside: true,
    summary:
      'Keeps a log; one that is there already, by its hash, is not kept twice. Reads its specimen anew',
    answers: '{ entry: RecordingEntry, isNew: boolean, reading: StoredReading | null }',
    query: newRecordingQuerySchema,
    bytes: LOG_BYTES,
    async run({ bench: { store }, query, body }) {
      const {
        name,
        specimenId = null,
        rigId = null,
        calibration = null,
        startedAt = null,
        ...options
      } = query
      const logOptions: LogOptions = given(options)
      const recording = await readGently(body, bareName(name), logOptions)
      if (!recording.ok) return answer(recording)
      const saved = await store.recordings.save({
        recording: recording.value,
        log: body,
        source: 'log',
        startedAt: startedAt ?? startedAtOf(recording.value),
        specimenId,
        rigId,
        calibration,
        logOptions,
      })
      if (!saved.ok) return answer(saved)
      const read = specimenId !== null && saved.value.isNew ? await keepReading(store, specimenId) : null
      return answer(fine({ ...saved.value, reading: read?.ok ? read.value : null }))
    },
  }),
]

/** Parses in pieces, so that a capture in this process gets its turn. */
async function readGently(bytes: Uint8Array, name: string, options: LogOptions): Promise<Outcome<Recording>> {
  if (bytes.length === 0) return wrong({ where: name, what: 'it is empty.', cure: 'Send the log itself.' })
  const reader = openLog(name, options, bytes.length)
  for (let from = 0; from < bytes.length; from += AT_ONCE_BYTES) {
    reader.push(bytes.subarray(from, from + AT_ONCE_BYTES))
    await turn()
  }
  const read = reader.finish()
  // Tables that name their columns otherwise are each read by their own header, which takes the bytes as a whole.
  return read.ok ? read : readLog(bytes, name, options)
}

/** A name without the folders that some browsers and programs send with it. */
const bareName = (name: string): string => name.split(/[/\\]/).at(-1) || 'log'

function previewOf(recording: Recording, sha256: string, known: RecordingEntry | null): LogPreview {
  const { timeS, forceN } = recording
  const curve = thinned(timeS, forceN, CURVE_PIXELS)
  return {
    name: recording.name,
    sha256,
    understood: recording.understood,
    samples: timeS.length,
    startS: timeS[0] ?? null,
    endS: timeS.at(-1) ?? null,
    forceUnit: recording.forceUnit,
    timeFrom: recording.timeFrom,
    channels: recording.channels.map(({ name, kind, unit }) => ({ name, kind, unit })),
    assumptions: recording.assumptions,
    notes: recording.notes.slice(0, MOST_NOTES),
    curve: { timeS: Array.from(curve.timeS), forceN: withoutNaN(curve.value) },
    known,
  }
}

/** JSON knows no NaN: a break of the line is `null`. */
export const withoutNaN = (values: Float64Array): (number | null)[] =>
  Array.from(values, value => (Number.isNaN(value) ? null : value))
