import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { BlockOfSamples, RecordingInBlocks, RestOfBlocks } from '../../core/recording.ts'
import { entryOf, type Header, headerOf, type JournalEntry } from '../journal/entries.ts'
import { type FramesTold, framesIn, KIND, samplesIn } from '../journal/frames.ts'
import { noJournal, noSample } from '../problems.ts'
import type { Troubles } from '../types.ts'
import { blockMaker } from './blockMaker.ts'
import { columnSurvey, forceSurvey } from './survey.ts'

/** The bytes of a journal in pieces, from its beginning, each time that they are asked for. */
export type JournalPieces = () => AsyncIterable<Uint8Array>

/** A long journal, gone through once. */
export interface LongJournal {
  readonly header: Header
  /** Without those that are repeated. */
  readonly samples: number
  readonly reason: string | null
  readonly recording: RecordingInBlocks
  /** Once its blocks were taken. */
  troubles(): Troubles
}

/** Gives the entries of a journal one by one, the header first; tells what could not be read. */
async function* entriesIn(pieces: JournalPieces, told: { damaged: number }) {
  const frames: FramesTold = { version: 0, damaged: 0, tornBytes: 0 }
  let isFirst = true
  for await (const body of framesIn(pieces(), frames)) {
    const entry = isFirst ? headerOf(body, frames.version) : entryOf(body)
    if (isFirst && entry === null) return
    if (entry === null) told.damaged++
    else yield entry
    isFirst = false
  }
  told.damaged += frames.damaged
}

/** Samples in a journal, repeated ones too. */
export async function samplesInJournal(pieces: JournalPieces): Promise<number> {
  let samples = 0
  for await (const body of framesIn(pieces(), { version: 0, damaged: 0, tornBytes: 0 }))
    if (body[0] === KIND.samples) samples += samplesIn(body) ?? 0
  return samples
}

/**
 * The recording in a journal of any length: memory holds no more of it than a block. It is gone through three
 * times: for what its columns are, for how far the force goes, and for the samples.
 */
export async function openLongJournal(
  pieces: JournalPieces,
  nameOf: (header: Header) => string,
  where: string,
): Promise<Outcome<LongJournal>> {
  let header: Header | null = null
  let most = 0
  const told = { damaged: 0 }
  const columnsTold = columnSurvey()
  for await (const entry of entriesIn(pieces, told))
    if (entry.what === 'header') header ??= entry
    else {
      if (entry.what === 'samples') most += entry.block.values.length
      columnsTold.take(entry)
    }
  if (header === null) return wrong(noJournal(where))
  const name = nameOf(header)
  const columns = columnsTold.columns()
  if (columns === null || most === 0) return wrong(noSample(name))
  const surveyed = forceSurvey(header, columns, most)
  for await (const entry of afterHeader(pieces)) surveyed.take(entry)
  const survey = surveyed.survey()
  let troubles = survey.troubles

  async function* blocks(): AsyncGenerator<BlockOfSamples, RestOfBlocks> {
    const made: BlockOfSamples[] = []
    const maker = blockMaker(survey, { name, damaged: told.damaged }, block => made.push(block))
    for await (const entry of afterHeader(pieces)) {
      maker.take(entry)
      for (let block = made.shift(); block; block = made.shift()) yield block
    }
    const rest = maker.end()
    for (let block = made.shift(); block; block = made.shift()) yield block
    troubles = maker.troubles
    return rest
  }
  return fine({
    header,
    samples: survey.samples,
    reason: survey.reason,
    troubles: () => troubles,
    recording: { name, forceUnit: columns.unit, channels: columns.channels, blocks },
  })
}

async function* afterHeader(pieces: JournalPieces): AsyncGenerator<JournalEntry> {
  for await (const entry of entriesIn(pieces, { damaged: 0 })) if (entry.what !== 'header') yield entry
}
