import { fine, type Outcome } from '../../core/problem.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import type { Recording } from '../../core/recording.ts'
import { thinned } from '../../core/signal/thin.ts'
import { unitOfLog } from '../../core/units/force.ts'
import {
  type LogOptions,
  mayBeSeveral,
  readEach,
  readLog,
  readSpecimen,
  startedAtOf,
} from '../../logs/index.ts'
import { detectEncoding } from '../../logs/lines/encoding.ts'
import { understandLayout } from '../../logs/lines/layout.ts'
import type { LogLook, LogRead, PartLook } from './types.ts'

const CURVE_PIXELS = 800
const PART_PIXELS = 300
const FIRST_LINES = 8
/** Enough for the columns to be told. */
const HEAD_BYTES = 32 * 1024
const MOST_NOTES = 50

/** How a log is understood with these options, before it is kept. */
export function logLook(bytes: Uint8Array, sha256: string, name: string, options: LogOptions): LogLook {
  const recording = readLog(bytes, name, options)
  return {
    sha256,
    ...headOf(bytes, name, options),
    read: readOf(recording),
    // A file of one table is not gone through once more.
    parts: mayBeSeveral(recording) ? partsOf(bytes, name, options) : [],
  }
}

const partsOf = (bytes: Uint8Array, name: string, options: LogOptions): PartLook[] =>
  readEach(bytes, name, options).map(({ part: { title, firstLine, lastLine, isBeside }, recording }) => ({
    title,
    firstLine,
    lastLine,
    isBeside,
    curve: recording.ok ? thinned(recording.value.timeS, recording.value.forceN, PART_PIXELS) : null,
  }))

function readOf(read: Outcome<Recording>): Outcome<LogRead> {
  if (!read.ok) return read
  const recording = read.value
  const { timeS, forceN, forceUnit } = recording
  const specimen = readSpecimen({
    recordings: [recording],
    rig: null,
    day: null,
    calibration: null,
    capacityN: null,
    isPractice: false,
    facts: null,
    adjustments: [],
  })
  if (!specimen.ok) return specimen
  return fine({
    understood: recording.understood,
    startedAt: startedAtOf(recording),
    samples: timeS.length,
    startS: timeS[0] ?? null,
    endS: timeS.at(-1) ?? null,
    forceUnit,
    timeFrom: recording.timeFrom,
    channels: recording.channels.map(({ name, kind, unit }) => ({ name, kind, unit })),
    assumptions: recording.assumptions,
    notes: recording.notes.slice(0, MOST_NOTES),
    curve: thinned(timeS, forceN, CURVE_PIXELS),
    peak: peakWords(specimen.value.reading.results.peakForce, unitOfLog(forceUnit)),
  })
}

/** The first lines as text and the names of the columns; neither where the bytes are no text. */
function headOf(
  bytes: Uint8Array,
  name: string,
  options: LogOptions,
): Pick<LogLook, 'firstLines' | 'columns'> {
  const head = bytes.subarray(0, HEAD_BYTES)
  const encoding = detectEncoding(head, name, options.encoding)
  if (!encoding.ok) return { firstLines: [], columns: [] }
  const lines = new TextDecoder(encoding.value.label).decode(head).split(/\r\n|\r|\n/)
  if (bytes.length > HEAD_BYTES && lines.length > 1) lines.pop()
  const layout = understandLayout(lines, options)
  return {
    firstLines: lines.slice(0, FIRST_LINES),
    columns:
      layout?.kind === 'cells'
        ? layout.forms.map((_, column) => layout.header?.names[column]?.trim() ?? '')
        : [],
  }
}
