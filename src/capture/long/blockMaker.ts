import type { BlockOfSamples, RestOfBlocks } from '../../core/recording.ts'
import { N_PER } from '../../core/units/force.ts'
import { breaksIn, emptyRows, gathering, inOrder, mapRows, type Rows, rowsSink } from '../gather.ts'
import type { JournalEntry } from '../journal/entries.ts'
import { assumptionsOf, notesOf, placedText, tensionTold } from '../recordingFacts.ts'
import { TURNS, tapsIn, turnsAt } from '../tappedTurns.ts'
import { placerOf } from './placeInBlocks.ts'
import type { Survey } from './survey.ts'

export interface BlockSizes {
  /** Samples of a block. */
  readonly block: number
  /**
   * Samples on either side that it is placed in time with: more than a window of smoothing, a second at any
   * rate that is recorded, and the few places that a late sample may come behind.
   */
  readonly around: number
}

/** A block is whole chunks of the store. What is stored depends on them: they stay as they are. */
const SIZES: BlockSizes = { block: 524_288, around: 131_072 }

/**
 * Third time through a long journal: gives its samples their order, times and signs, and hands them on block
 * by block.
 */
export function blockMaker(
  survey: Survey,
  { name, damaged }: { readonly name: string; readonly damaged: number },
  take: (block: BlockOfSamples) => void,
  { block, around }: BlockSizes = SIZES,
) {
  const { columns, tension } = survey
  const perUnit = (columns.unit === 'counts' ? 1 : N_PER[columns.unit]) * (tension.negative ? -1 : 1)
  const rows = emptyRows(around + block + around, columns.channels.length)
  const capacity = rows.values.length
  const sink = rowsSink(rows)
  const placer = placerOf(survey)
  /** Rows at the front that were handed on and are there for what follows. */
  let before = 0
  /** Sample of the recording that the first row is. */
  let first = 0
  let handedOn = 0
  let lateSeen = 0
  let lastS = 0
  /** Times of all samples after which a turn was tapped, as far as they were handed on. */
  const tapTimeS = new Map<number, number>()
  const all = gathering(columns, {
    add(row) {
      sink.add(row)
      if (sink.filled === before + block + around || sink.filled === capacity) handOn(false)
    },
  })

  function handOn(isLast: boolean): void {
    const filled = sink.filled
    const to = isLast ? filled : Math.min(filled, before + block)
    if (to <= before) return
    const there = mapRows(rows, array => array.subarray(0, filled))
    if (all.troubles.outOfOrder > lateSeen) {
      lateSeen = all.troubles.outOfOrder
      putBack(rows, inOrder(there))
    }
    const breaks = breaksIn(there, all.breakPlaces)
    const timeS = placer.place({ ...there, breaks, from: before, to, first })
    for (const { remark, sample } of all.remarks())
      if (remark.kind === 'turn' && sample >= handedOn && sample < handedOn + timeS.length)
        tapTimeS.set(sample, timeS[sample - handedOn]!)
    take({
      timeS,
      forceN: there.values.slice(before, to).map(value => (perUnit === 1 ? value : value * perUnit + 0)),
      channels: there.channels.map(values => values.slice(before, to)),
    })
    handedOn += timeS.length
    lastS = timeS.at(-1) ?? lastS
    const kept = Math.max(0, to - around)
    for (const array of [rows.values, rows.arrivalS, rows.stampS, rows.count, ...rows.channels])
      array.copyWithin(0, kept, filled)
    for (const channel of rows.channels) channel.fill(Number.NaN, filled - kept)
    sink.filled = filled - kept
    before = to - kept
    first += kept
  }

  return {
    take: (entry: JournalEntry): void => all.take(entry),
    end(): RestOfBlocks {
      while (sink.filled > before) handOn(sink.filled - before <= block)
      const { spans, timeFrom, by, rateHz } = placer
      const segments = spans.map((span, s) => ({
        ...span,
        to: spans[s + 1]?.from ?? handedOn,
        name,
        sha256: '',
      }))
      const remarks = all.remarks()
      const taps = tapsIn(remarks, handedOn)
      const timesS = taps.map(({ sample }) => tapTimeS.get(sample) ?? lastS)
      return {
        timeFrom,
        tension: tensionTold(survey.header, tension),
        segments,
        notes: notesOf(remarks),
        assumptions: assumptionsOf(columns, survey.header, damaged, tension),
        understood: `${handedOn} samples from ${survey.header.source}: ${placedText(by, rateHz)}, force in ${columns.unit}`,
        lateChannels:
          taps.length < 2
            ? []
            : [{ ...TURNS, valuesAt: (timeS, from) => turnsAt(taps, timesS, timeS, from) }],
      }
    },
    get troubles() {
      const resets = placer.spans.filter(({ began }) => began === 'reset').length
      return { ...all.troubles, resets: Math.max(resets, all.troubles.resets) }
    },
  }
}

function putBack(rows: Rows, ordered: Rows): void {
  rows.values.set(ordered.values)
  rows.arrivalS.set(ordered.arrivalS)
  rows.stampS.set(ordered.stampS)
  rows.count.set(ordered.count)
  for (const [c, values] of ordered.channels.entries()) rows.channels[c]!.set(values)
}
