import { Command, Option } from 'commander'
import { readyThread } from '../besideLog.ts'
import { besideOutput } from '../files.ts'
import type { ExitCode, Io } from '../io.ts'
import { addLogOptions, shownUnit, wholeNumber } from '../logOptions.ts'
import type { ReadFlags } from '../read/readLogs.ts'
import { figureFile } from '../writeFigure.ts'

const EXAMPLES = `
Examples:
  tenterhook read paste-3.csv                          the peak force, what happened, and the doubt
  tenterhook read --elements 8 --figure dots.svg hot-melt-1.csv
  tenterhook read --specimen stitch-2a.csv stitch-2b.csv   two logs, one specimen
  tenterhook read --each four-pulls.csv                four tables in one file, four specimens
  tenterhook read --json --specimens table.csv *.csv > readings.jsonl

Exit codes: 0 read; 2 the command line is wrong; 3 a log could not be understood; 4 a file could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description('Reads logs of a rig: the peak force with its doubt, the pulls, breaks, slips and zeros.')
    .argument('<file...>', 'logs, of any shape')
    .option('--json', 'reading documents, one a line')
    .option('--why', 'explain every result and warning')
    .addOption(
      new Option('--elements <n>', 'how many equal elements the specimen had')
        .argParser(wholeNumber(1))
        .conflicts('specimens'),
    )
    .option(
      '--specimens <table>',
      'table of specimens: file, and any of specimen, variant, elements, width_mm, thickness_mm, length_mm, mode, note',
    )
    .option('--specimen', 'the files, or the tables in a file, are logs of one specimen, in order')
    .addOption(
      new Option('--each', 'of a file with several tables, each is a specimen of its own').conflicts(
        'specimen',
      ),
    )
    .option('--show <unit>', 'unit to show forces in, instead of that of the log', shownUnit)
    .option('--figure <file>', 'also draw the reading, as .svg or .png', figureFile)
    .option('--dark', 'draw it for a dark page')
    .option('--adjust <file>', 'adjustments to replay on the reading')
    .option('--rig <file>', 'description of the rig, with its calibration')
  return addLogOptions(command)
    .addHelpText('after', EXAMPLES)
    .action(async (files: string[], flags: ReadFlags) => {
      // A long log is read by two threads: the second one starts while this one loads what reads.
      readyThread(files)
      const { readLogs } = await import('../read/readLogs.ts')
      done(await readLogs(files, flags, besideOutput(flags.figure, io)))
    })
}
