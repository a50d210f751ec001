import { type Command, Option } from 'commander'
import { addSourceOptions, SOURCES_OF_FILES } from '../compare/sourceOptions.ts'
import type { CompareFlags } from '../compare/sources.ts'
import { addLogOptions, LOG_OPTIONS } from '../logOptions.ts'
import { STORE_OPTION } from '../openStore.ts'

/** The options that say which study is published, whether from the store or from files. */
export interface StudyFlags extends CompareFlags {
  readonly study?: string
  readonly store?: string
  readonly name?: string
  readonly question?: string
  readonly method?: string
  readonly initials?: true
}

/** Only of files: a study of the store has them of its own. */
const OF_FILES = [...SOURCES_OF_FILES, ...LOG_OPTIONS, 'name', 'question']

/** Adds them to a command; `[file...]` of the command are then logs, or readings as `read --json` prints them. */
export function addStudyOptions(command: Command): Command {
  command
    .optionsGroup('The study, from the store or from files:')
    .addOption(new Option('--study <name>', 'study of the store, by its name or id').conflicts(OF_FILES))
    .option(...STORE_OPTION)
    .option('--name <text>', 'name of the study, for files')
    .option('--question <text>', 'what the study asks, for files')
    .option('--method <file>', 'text file that tells how the specimens were made and pulled')
    .option('--initials', 'names of people reduced to initials')
  return addLogOptions(addSourceOptions(command))
}
