import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { BlockOfSamples, Recording } from '../../core/recording.ts'
import type { JournalContents } from '../journal/entries.ts'
import { noSample } from '../problems.ts'
import type { Troubles } from '../types.ts'
import { blockMaker } from './blockMaker.ts'
import { columnSurvey, forceSurvey } from './survey.ts'

/** Samples that are assembled in one piece; more are placed block by block, wherever they are held. */
export const MOST_AT_ONCE = 2_000_000

/**
 * The recording in a long journal whose bytes are all at hand: sample for sample the one that is stored in
 * blocks.
 */
export function assembleLong(
  contents: JournalContents,
  name: string,
): Outcome<{ readonly recording: Recording; readonly troubles: Troubles }> {
  const { header, entries, damaged, samples: most } = contents
  const told = columnSurvey()
  for (const entry of entries) told.take(entry)
  const columns = told.columns()
  if (columns === null) return wrong(noSample(name))
  const surveyed = forceSurvey(header, columns, most)
  for (const entry of entries) surveyed.take(entry)
  const survey = surveyed.survey()
  const timeS = new Float64Array(survey.samples)
  const forceN = new Float64Array(survey.samples)
  const channels = columns.channels.map(() => new Float64Array(survey.samples))
  let filled = 0
  const maker = blockMaker(survey, { name, damaged }, (block: BlockOfSamples) => {
    timeS.set(block.timeS, filled)
    forceN.set(block.forceN, filled)
    for (const [c, values] of block.channels.entries()) channels[c]!.set(values, filled)
    filled += block.timeS.length
  })
  for (const entry of entries) maker.take(entry)
  const { lateChannels, ...rest } = maker.end()
  return fine({
    recording: {
      name,
      sha256: '',
      forceUnit: columns.unit,
      timeS,
      forceN,
      channels: [
        ...columns.channels.map((channel, c) => ({ ...channel, values: channels[c]! })),
        ...lateChannels.map(({ valuesAt, ...head }) => ({ ...head, values: valuesAt(timeS, 0) })),
      ],
      ...rest,
    },
    troubles: maker.troubles,
  })
}
