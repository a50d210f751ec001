import { fine, type Outcome } from '../../core/problem.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import { readRecording } from '../../core/reading/readRecording.ts'
import { thinned } from '../../core/signal/thin.ts'
import { type LogOptions, readLog } from '../../logs/index.ts'
import type { LogLook } from './types.ts'

const CURVE_PIXELS = 800
const FIRST_LINES = 8
const FIRST_BYTES = 4096
const MOST_NOTES = 50

/** How a log is understood with these options, before it is kept. */
export function logLook(
  bytes: Uint8Array,
  sha256: string,
  name: string,
  options: LogOptions,
): Outcome<LogLook> {
  const read = readLog(bytes, name, options)
  if (!read.ok) return read
  const recording = read.value
  const { timeS, forceN, forceUnit } = recording
  const reading = forceUnit === 'counts' ? null : readRecording(recording)
  return fine({
    name,
    sha256,
    understood: recording.understood,
    samples: timeS.length,
    startS: timeS[0] ?? null,
    endS: timeS.at(-1) ?? null,
    forceUnit,
    timeFrom: recording.timeFrom,
    channels: recording.channels.map(({ name, kind, unit }) => ({ name, kind, unit })),
    assumptions: recording.assumptions,
    notes: recording.notes.slice(0, MOST_NOTES),
    firstLines: firstLines(bytes, options.encoding),
    curve: thinned(timeS, forceN, CURVE_PIXELS),
    peak: reading === null || forceUnit === 'counts' ? '' : peakWords(reading.results.peakForce, forceUnit),
  })
}

function firstLines(bytes: Uint8Array, encoding: string | undefined): string[] {
  const head = bytes.subarray(0, FIRST_BYTES)
  const utf16 = (head[0] === 0xff && head[1] === 0xfe) || (head[0] === 0xfe && head[1] === 0xff)
  const label = encoding ?? (utf16 ? (head[0] === 0xff ? 'utf-16le' : 'utf-16be') : 'utf-8')
  try {
    return new TextDecoder(label)
      .decode(head)
      .split(/\r\n|\r|\n/)
      .slice(0, FIRST_LINES)
  } catch {
    // An encoding that the reader knows and the browser does not: the preview shows the curve alone.
    return []
  }
}
