import type { ChannelKind } from '../../core/recording.ts'
import type { LogForceUnit } from '../../core/units/force.ts'
import type { About, LineRig, RecordingPlan, RemarkKind } from '../types.ts'
import { KIND, readFrames, type SampleBlock, samplesIn, samplesOf } from './frames.ts'

/**
 * Which process writes a journal. Another program that finds it must tell one in use from one left behind:
 * numbers of processes are given out again, and mean nothing on another computer or in another container.
 */
export interface Writer {
  readonly host: string
  /** When the process began, as the system counts; `null` where the system does not tell it of others. */
  readonly began: string | null
}

/** First entry of a journal. */
export interface Header {
  readonly what: 'header'
  readonly id: string
  /** Wall clock at the start, ISO 8601; the samples' own times stand on a clock that never jumps. */
  readonly startedAt: string
  readonly startedS: number
  readonly about: About
  readonly plan: Omit<RecordingPlan, 'about'>
  readonly source: string
  readonly engine: string
  /** The process that writes, so that another one can tell a journal in use from one left behind. */
  readonly pid: number
  /** Left out by earlier programs. */
  readonly writer?: Writer
  /** Greatest force that the cell may read. */
  readonly capacityN: number | null
  /** Since version 2. */
  readonly rig: LineRig | null
  /** What the operator said of the line. */
  readonly rateHz: number | null
  readonly tension: 'positive' | 'negative' | null
}

/** What the numbers of the blocks that follow are. */
export interface Columns {
  readonly what: 'columns'
  readonly unit: LogForceUnit
  /** True where the line did not name the unit. */
  readonly unitAssumed: boolean
  /**
   * The device's times, where it gives any: what one step of its counter is worth in seconds, for its
   * wrap-round; `null`: to be told from where it wraps.
   */
  readonly stamps: { readonly tickS: number | null } | null
  readonly channels: readonly { readonly name: string; readonly kind: ChannelKind; readonly unit: string }[]
}

/** Something that happened, or a line that holds no sample. */
export interface Remark {
  readonly what: 'remark'
  readonly kind: RemarkKind
  readonly atS: number
  readonly text: string
  /** How many of its kind it stands for; −1 for a turn that is taken back. */
  readonly count: number
}

export interface End {
  readonly what: 'end'
  readonly how: 'finished' | 'given-up'
  readonly atS: number
  readonly reason: string | null
}

type Entry = Header | Columns | Remark | End | { readonly what: 'samples'; readonly block: SampleBlock }

/** What follows the header. */
export type JournalEntry = Exclude<Entry, Header>

export interface JournalContents {
  readonly header: Header
  /**
   * Made anew each time that they are gone through: all at once they would take many times the room of the
   * journal.
   */
  readonly entries: Iterable<JournalEntry>
  /** Samples in all of them. */
  readonly samples: number
  readonly damaged: number
  readonly tornBytes: number
}

/**
 * What a journal holds, or `null` where not even its header is whole. Later versions add a branch here; none
 * is dropped.
 */
export function journalContents(bytes: Uint8Array): JournalContents | null {
  const { version, count, body, damaged, tornBytes } = readFrames(bytes)
  const header = count > 0 ? headerOf(body(0), version) : null
  if (header === null) return null
  let samples = 0
  let unread = 0
  for (let frame = 1; frame < count; frame++) {
    const one = body(frame)
    const held = one[0] === KIND.samples ? samplesIn(one) : entryOf(one) && 0
    if (held === null) unread++
    else samples += held
  }
  return {
    header,
    entries: {
      *[Symbol.iterator]() {
        for (let frame = 1; frame < count; frame++) {
          const entry = entryOf(body(frame))
          if (entry !== null && entry.what !== 'header') yield entry
        }
      },
    },
    samples,
    damaged: damaged + unread,
    tornBytes,
  }
}

/** The header in the first frame of a journal of this version; `null` where it is none. */
export function headerOf(body: Uint8Array, version: number): Header | null {
  const header = version === 1 || version === 2 ? entryOf(body) : null
  if (header?.what !== 'header') return null
  return version === 1 ? headerOfVersion1(header) : header
}

/** Version 1 knew neither the rig nor the specimen's id. */
const headerOfVersion1 = (header: Header): Header => ({
  ...header,
  plan: { ...header.plan, specimenId: null, elements: header.plan.elements ?? null },
  rig: null,
})

/** The entry in the body of a frame; `null` where it cannot be read. */
export function entryOf(body: Uint8Array): Entry | null {
  if (body[0] === KIND.samples) {
    const block = samplesOf(body)
    return block ? { what: 'samples', block } : null
  }
  if (body[0] !== KIND.json) return null
  try {
    // The checksum held, so that this is what we wrote.
    return JSON.parse(new TextDecoder().decode(body.subarray(1))) as Entry
  } catch {
    return null
  }
}
