import { type Command, InvalidArgumentError, Option } from 'commander'
import { PER } from '../../core/statistics/compare/perDimension.ts'
import { QUANTITIES } from '../../core/statistics/compare/quantity.ts'
import { ADJUST_OPTION, adjustFlag } from '../adjustFlag.ts'
import { positive, shownUnit, wholeNumber } from '../logOptions.ts'
import type { Dropped } from './sources.ts'

/** What is said of files only: a study of the store knows it of its own specimens. */
export const SOURCES_OF_FILES: readonly string[] = [
  'by',
  'specimens',
  'per',
  'dimensionDoubt',
  'rig',
  'adjust',
  'control',
  'drop',
]

/** The options that say which specimens are compared and by what: the same for `compare` and all that publishes. */
export const addSourceOptions = (command: Command): Command =>
  command
    .option('--by <pattern>', 'how file names are made, as in "{variant}-{n}.csv"')
    .addOption(
      new Option('--quantity <what>', 'what to compare: peakForce unless told').choices(
        Object.keys(QUANTITIES),
      ),
    )
    .option(
      '--specimens <table>',
      'table of specimens: file, and any of specimen, variant, elements, width_mm, thickness_mm, length_mm, mode, day, batch, operator, order, dropped',
    )
    .addOption(
      new Option('--per <dimension>', 'force per width, length, area or bond area').choices(Object.keys(PER)),
    )
    .option('--dimension-doubt <mm>', 'doubt of a dimension (half-width of a 95 % interval)', positive)
    .option('--rig <file>', 'description of the rig, with its calibration, for logs')
    .addOption(new Option(...ADJUST_OPTION).argParser(adjustFlag).default([], 'none'))
    .option('--block <name>', 'day, batch or operator (a column of a table): differences are taken within it')
    .option('--control <group>', 'group that was pulled in each block, to show what the blocks do')
    .addOption(
      new Option('--drop <name=why>', 'leave a specimen out, with the reason; may be given again')
        .argParser(dropped)
        .default([], 'none'),
    )
    .addOption(
      new Option('--worth <percent>', 'difference worth knowing, of the mean')
        .argParser(percentShare)
        .default(null, 'none: nothing is called as good as anything'),
    )
    .option('--seed <n>', 'of resampling', wholeNumber(0), 1)
    .option('--show <unit>', 'unit of force to show, instead of that of the logs', shownUnit)

function dropped(text: string, before: readonly Dropped[]): Dropped[] {
  const at = text.indexOf('=')
  if (at < 1 || text.slice(at + 1).trim() === '')
    throw new InvalidArgumentError('Give the specimen and the reason, as in "stitch 3=slipped in the grip".')
  return [...before, { name: text.slice(0, at).trim(), why: text.slice(at + 1).trim() }]
}

function percentShare(text: string): number {
  const value = Number(text.replace(/\s*%$/, ''))
  if (!(value > 0 && value < 1000)) throw new InvalidArgumentError('It must be a percentage above 0.')
  return value / 100
}
