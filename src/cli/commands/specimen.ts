import { Command } from 'commander'
import type { ExitCode, Io } from '../io.ts'
import { shownUnit } from '../logOptions.ts'
import { STORE_OPTION } from '../openStore.ts'

const EXAMPLES = `
Examples:
  tenterhook specimen list --study Handles
  tenterhook specimen move --study Handles --to stitch "paste 3" "paste 4"
  tenterhook specimen rename --study Handles "paste 3" "paste 3b"
  tenterhook specimen set --study Handles table.csv       many cells at once, from a spreadsheet; - for standard input
  tenterhook specimen rig --study Handles --rig rig.json   all recordings get this rig and are read anew
  tenterhook specimen calibration --study Handles --of 2026-05-03 --to 2026-06-30   an older calibration counts for these
  tenterhook specimen type --study Handles --unit kgf peaks.csv   peaks of a scale with a peak hold, without curves
  tenterhook specimen undo --study Handles                 takes the last change back

The table of set: a column specimen, and any of name, variant, width_mm, thickness_mm, length_mm, elements, mode, operator,
batch, day (2026-05-03), order (which pull it was, from 1), note. An empty cell leaves what is there; a lone - clears it. The table of type: specimen and peak (or peak_kgf, peak (kgf) …),
and any of variant, step, doubt; >68.2 is a peak that held at least so much.

Exit codes: 0 done; 2 the command line is wrong; 3 nothing was changed, as something does not fit.`

/** Each part loads its own code when it is asked for. */
export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command().description(
    'What is said of the specimens of a study: rename, move, split, merge, remove, their rig and its calibration, typed peaks; all of it can be taken back.',
  )
  const part = (name: string) =>
    command
      .command(name)
      .exitOverride()
      .configureOutput({ writeOut: io.out, writeErr: io.err })
      .requiredOption('--study <name>', 'study of the store, by its name or id')
      .option('--who <name>', 'who says so', '')
      .option('--json', 'one JSON document')
      .option(...STORE_OPTION)
  const edits = () => import('../specimens/editCommands.ts')

  part('list')
    .description('Lists the specimens, those not assigned to a variant and those removed among them.')
    .action(async flags => done(await (await edits()).list(flags, io)))
  part('rename')
    .description('Gives a specimen another name.')
    .argument('<old>', 'its name')
    .argument('<new>', 'the name that it gets')
    .action(async (old: string, name: string, flags) =>
      done(await (await edits()).rename(old, name, flags, io)),
    )
  part('move')
    .description('Assigns specimens to a variant; one that is not there yet is made.')
    .argument('<specimen...>', 'names')
    .requiredOption('--to <variant>', 'variant; - for none')
    .action(async (names: string[], flags) => done(await (await edits()).move(names, flags, io)))
  part('set')
    .description('Changes many at once by a table.')
    .argument('<table>', 'table of cells, or - for standard input')
    .action(async (table: string, flags) => done(await (await edits()).setCells(table, flags, io)))
  part('split')
    .description('Makes some recordings of a specimen a specimen of their own.')
    .argument('<specimen>', 'its name')
    .argument('<recording...>', 'recordings that go, by id or by the name of their log')
    .requiredOption('--as <name>', 'name of the new specimen')
    .action(async (name: string, recordings: string[], flags) =>
      done(await (await edits()).split(name, recordings, flags, io)),
    )
  part('merge')
    .description(
      'Makes several specimens one: their recordings are joined in this order, under the first name.',
    )
    .argument('<specimen...>', 'names')
    .action(async (names: string[], flags) => done(await (await edits()).merge(names, flags, io)))
  part('remove')
    .description('Takes specimens out of sight and out of every figure; nothing of them is deleted.')
    .argument('<specimen...>', 'names')
    .action(async (names: string[], flags) => done(await (await edits()).remove(names, flags, io)))
  part('bring-back')
    .description('Brings removed specimens back.')
    .argument('<specimen...>', 'names')
    .action(async (names: string[], flags) => done(await (await edits()).bringBack(names, flags, io)))
  part('rig')
    .description(
      'Says on which rig recordings were made, reads them anew, and shows every figure before and after.',
    )
    .argument('[specimen...]', 'names; all where none is given')
    .option('--rig <file>', 'rig with its calibrations')
    .option('--none', 'no rig after all')
    .option('--from <day>', 'only recordings begun on this day or later (2026-05-03)')
    .option('--to <day>', 'only recordings begun on this day or before')
    .action(async (names: string[], flags) => done(await (await edits()).assignRig(names, flags, io)))
  part('calibration')
    .description(
      'Chooses which calibration of their rig counts for recordings, reads them anew, and shows every figure before and after; without a choice it lists the calibrations.',
    )
    .argument('[specimen...]', 'names; all where none is given')
    .option(
      '--of <calibration>',
      'calibration of the rig, by its day (2026-05-03) or all that the list shows of it',
    )
    .option('--file <file>', 'calibration from a file, or - for standard input; it is added to the rig')
    .option('--by-day', 'of each recording the latest that is not after its day, as without a choice')
    .option('--from <day>', 'only recordings begun on this day or later (2026-05-03)')
    .option('--to <day>', 'only recordings begun on this day or before')
    .action(async (names: string[], flags) =>
      done(await (await import('../specimens/chooseCalibration.ts')).chooseCalibration(names, flags, io)),
    )
  part('type')
    .description(
      'Keeps peaks that were read off a scale, as specimens without curves; the study is made if it is new.',
    )
    .argument('<table>', 'table of peaks, or - for standard input')
    .option(
      '--unit <unit>',
      'unit of force of peaks, steps and doubts whose columns do not tell it (N)',
      shownUnit,
    )
    .action(async (table: string, flags) =>
      done(await (await import('../specimens/typePeaks.ts')).typePeaks(table, flags, io)),
    )
  part('changes')
    .description('Lists what was changed, the newest first.')
    .action(async flags => done(await (await edits()).changes(flags, io)))
  part('undo')
    .description('Takes a change back: the newest that holds, or the one named.')
    .argument('[change]', 'id of the change, or its first letters')
    .action(async (id: string | undefined, flags) => done(await (await edits()).turn(id, 'back', flags, io)))
  part('redo')
    .description('Does a change again that was taken back: the last one, or the one named.')
    .argument('[change]', 'id of the change, or its first letters')
    .action(async (id: string | undefined, flags) => done(await (await edits()).turn(id, 'again', flags, io)))

  return command.addHelpText('after', EXAMPLES)
}
