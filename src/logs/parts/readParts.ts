import { printable } from '../../core/printable.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Assumption, Recording, Segment } from '../../core/recording.ts'
import { joinRecordings } from '../joinRecordings.ts'
import type { LineGap } from '../lines/lineGap.ts'
import { middleStep } from '../meaning/timeBase.ts'
import type { LogOptions } from '../options.ts'
import type { LogPart } from './logPart.ts'
import { partOptions, partsOfLog } from './partsOfLog.ts'

type Read = (bytes: Uint8Array, name: string, options: LogOptions, gap: LineGap) => Outcome<Recording>

/** A step so many times the usual one still goes on with the same clock. */
const SAME_CLOCK_STEPS = 5

/**
 * The tables of a file that name their columns otherwise, each read by its own header and joined to one
 * recording in several pieces; `null` where the file holds no such tables, or one of them cannot be read.
 */
export function joinedTables(
  bytes: Uint8Array,
  name: string,
  options: LogOptions,
  read: Read,
): Recording | null {
  const parts = partsOfLog(bytes, name, options)
  if (parts.some(({ isBeside }) => isBeside)) return null
  if (new Set(parts.map(({ header }) => header)).size < 2) return null
  const recordings: Recording[] = []
  for (const part of parts) {
    const one = readPart(part, name, options, read)
    if (!one.ok) return null
    recordings.push(one.value)
  }
  const joined = joinRecordings(recordings)
  if (!joined.ok) return null
  return {
    ...joined.value,
    segments: withOneClock(joined.value.segments, recordings),
    assumptions: [
      ...parts.slice(1).map(headerTold),
      // What is told of all is told once.
      ...recordings.flatMap(({ assumptions }, r) =>
        assumptions.filter(
          ({ text }) => !recordings.slice(0, r).some(other => other.assumptions.some(a => a.text === text)),
        ),
      ),
    ],
    understood: recordings
      .map(({ understood }, r) => `lines ${parts[r]!.firstLine} to ${parts[r]!.lastLine}: ${understood}`)
      .join(' | '),
  }
}

const readPart = (part: LogPart, name: string, options: LogOptions, read: Read): Outcome<Recording> =>
  read(new TextEncoder().encode(part.text), name, partOptions(options), part.gap)

const headerTold = ({ firstLine, header }: LogPart): Assumption => ({
  code: 'layout-changes',
  text: `From line ${firstLine} on another header, “${printable(header)}”, names the columns: the rows below it are read by that one.`,
})

/** A clock that goes on over the header has one base; one that starts again begins a piece. */
function withOneClock(segments: readonly Segment[], recordings: readonly Recording[]): Segment[] {
  const starts = new Map<number, number>()
  let at = 0
  for (const [r, { timeS }] of recordings.entries()) {
    if (r > 0) starts.set(at, r)
    at += timeS.length
  }
  const kept: Segment[] = []
  for (const segment of segments) {
    const r = starts.get(segment.from)
    const before = kept.at(-1)
    if (r !== undefined && before && goesOn(recordings[r - 1]!, recordings[r]!))
      kept[kept.length - 1] = { ...before, to: segment.to }
    else kept.push(r === undefined ? segment : { ...segment, began: 'reset' })
  }
  return kept
}

function goesOn(before: Recording, after: Recording): boolean {
  const ownTime = (recording: Recording, sample: number, segment: Segment | undefined): number =>
    recording.timeS[sample]! - (segment?.shiftS ?? 0)
  const step =
    ownTime(after, 0, after.segments[0]) - ownTime(before, before.timeS.length - 1, before.segments.at(-1))
  return step > 0 && step <= SAME_CLOCK_STEPS * middleStep(before.timeS)
}

/**
 * Whether a file, by what was read of the whole of it, is worth being gone through for tables: it is no one
 * table, its clock starts again, its header changes, or other columns might be the force as well.
 */
export const mayBeSeveral = (whole: Outcome<Recording>): boolean =>
  !whole.ok ||
  whole.value.segments.length > 1 ||
  whole.value.assumptions.some(({ code }) => code === 'layout-changes' || code === 'column-assumed')

/** A table of a file as a recording of its own. */
export interface ReadPart {
  readonly part: LogPart
  /** The file's name, then that of the table. */
  readonly name: string
  readonly recording: Outcome<Recording>
}

/** Each table of a file read for itself; empty where the file holds one only. */
export function readParts(bytes: Uint8Array, name: string, options: LogOptions, read: Read): ReadPart[] {
  return partsOfLog(bytes, name, options).map((part, i) => {
    const own = `${name} · ${part.title ?? `part ${i + 1}`}`
    const recording = readPart(part, name, options, read)
    return {
      part,
      name: own,
      recording: recording.ok ? fine(called(recording.value, own)) : recording,
    }
  })
}

const called = (recording: Recording, name: string): Recording => ({
  ...recording,
  name,
  segments: recording.segments.map(segment => ({ ...segment, name })),
})
