import { type Command, Option } from 'commander'
import type { ForceUnit } from '../../core/units/force.ts'
import { ADJUST_OPTION, type AdjustFlag, adjustFlag } from '../adjustFlag.ts'
import { addLogOptions, type LogFlags, shownUnit, wholeNumber } from '../logOptions.ts'
import { STORE_OPTION } from '../openStore.ts'

/** The options that say which specimens a clip shows: of a study, as for a report, or plain logs. */
export interface TargetFlags extends LogFlags {
  readonly study?: string
  readonly store?: string
  readonly specimens?: string
  readonly by?: string
  readonly only: readonly string[]
  /** The files are logs of one specimen. */
  readonly specimen?: true
  /** How many equal elements each specimen had. */
  readonly elements?: number
  readonly rig?: string
  readonly adjust: readonly AdjustFlag[]
  readonly show?: ForceUnit
}

/** Those of files: a study of the store has them of its own. */
const OF_FILES = ['specimens', 'by', 'specimen', 'elements', 'rig', 'adjust']
/** What makes a study of files; it says of each log whose it is, and of each specimen what it had. */
const STUDY_OF_FILES = ['specimens', 'by']

/** Adds them to a command; `[log...]` of the command are then the files. */
export function addTargetOptions(command: Command): Command {
  command
    .optionsGroup('The specimens, from the store or from files:')
    .addOption(new Option('--study <name>', 'study of the store, by its name or id').conflicts(OF_FILES))
    .option(...STORE_OPTION)
    .option('--specimens <table>', 'table of specimens, as for compare: whose each log is, and what it had')
    .option('--by <pattern>', 'how file names are made, as in "{variant}-{n}.csv"')
    .addOption(
      new Option('--only <specimen>', 'this specimen of the study; may be given again')
        .argParser((name: string, before: readonly string[]) => [...before, name])
        .default([], 'all that have a curve'),
    )
    .addOption(
      new Option('--specimen', 'the files are logs of one specimen, in order').conflicts(STUDY_OF_FILES),
    )
    .addOption(
      new Option('--elements <n>', 'how many equal elements each specimen had')
        .argParser(wholeNumber(1))
        .conflicts(STUDY_OF_FILES),
    )
    .option('--rig <file>', 'description of the rig, with its calibration')
    .addOption(new Option(...ADJUST_OPTION).argParser(adjustFlag).default([], 'none'))
    .option('--show <unit>', 'unit of force, instead of that of the study or the log', shownUnit)
  return addLogOptions(command)
}
