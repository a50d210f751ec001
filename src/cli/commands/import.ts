import { Command, Option } from 'commander'
import { printable } from '../../core/printable.ts'
import type { Store } from '../../store/index.ts'
import { pathOfInput } from '../files.ts'
import { type ImportFlags, importLogs } from '../import/importLogs.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { addLogOptions } from '../logOptions.ts'
import { STORE_OPTION, withStore } from '../openStore.ts'
import { progress } from '../progress.ts'
import { tell } from '../tell.ts'

const EXAMPLES = `
Examples:
  tenterhook import *.csv                               loose: to be placed on specimens later
  tenterhook import --study Handles --variant paste paste-*.csv   a specimen for each, named as its log
  tenterhook import --study Handles --specimen "stitch 2" a.csv b.csv   both of one specimen, in order
  tenterhook import --study Handles --each four-pulls.csv         four tables in one file, four specimens
  tenterhook import --study Handles --rig rig.json *.csv          with the rig and its calibration
  tenterhook import handles.zip                         a data package: its study, logs, readings, rig and photos
  tenterhook import left.journal                        a capture that could not be stored when it ended
  tenterhook import --all everything.jsonl.gz           all of another store, as export --all wrote it

Exit codes: 0 all are in the store now (some may have been before); 2 the command line is wrong;
3 some could not be understood, the others are in; 4 the store could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description(
      'Takes logs or data packages into the store. What is there already, by the hash of its bytes, is not taken twice.',
    )
    .argument('<file...>', 'logs of any shape, journals of captures, or data packages (a folder or a zip)')
    .option('--study <name>', 'study they belong to; made if it is new')
    .option('--variant <name>', 'variant of the study; made if it is new')
    .option('--specimen <name>', 'specimen they all belong to; else each log is one, named after its file')
    .addOption(
      new Option('--each', 'of a file with several tables, each is a specimen of its own').conflicts(
        'specimen',
      ),
    )
    .option('--no-each', 'they are one specimen, even where each has a name')
    .option(
      '--file-times',
      'logs whose stamps carry no date: take when the file was last written for their end',
    )
    .option(
      '--rig <file>',
      'rig that the logs were recorded on, with its calibrations and the checks beside it',
    )
    .option('--all', 'the files are whole stores, as export --all writes them')
    .option('--json', 'one JSON document')
    .option(...STORE_OPTION)
  return addLogOptions(command)
    .addHelpText('after', EXAMPLES)
    .action(async (files: string[], flags: ImportFlags, self: Command) => {
      if (flags.study === undefined && (flags.variant !== undefined || flags.specimen !== undefined))
        self.error('error: --variant and --specimen need --study', { exitCode: EXIT.usage })
      const packages = flags.all ? [] : await packagesAmong(files)
      if (packages.length > 0 && (packages.length < files.length || flags.study !== undefined))
        self.error('error: a data package is imported by itself: without logs, and without --study', {
          exitCode: EXIT.usage,
        })
      done(
        await withStore(io, flags.store, store => {
          if (flags.all) return importStores(store, files, flags, io)
          return packages.length > 0
            ? importPackages(store, packages, flags, io)
            : importLogs(store, files, flags, io)
        }),
      )
    })
}

async function packagesAmong(files: readonly string[]): Promise<string[]> {
  const { isPackage } = await import('../package/nodePackage.ts')
  const are = await Promise.all(files.map(isPackage))
  return files.filter((_, i) => are[i])
}

async function importPackages(
  store: Store,
  paths: readonly string[],
  flags: ImportFlags,
  io: Io,
): Promise<ExitCode> {
  const { openPackage } = await import('../package/nodePackage.ts')
  const { sha256 } = await import('../../server/hash.ts')
  const { importPackage } = await import('../../server/importPackage/importPackage.ts')
  let code: ExitCode = EXIT.ok
  for (const path of paths) {
    const opened = await openPackage(path)
    if (!opened.ok) {
      code = tell(io, opened.problems, EXIT.input)
      continue
    }
    const shown = progress(io, `importing ${printable(path, 60)}`)
    const imported = await importPackage(store, opened.value.source, sha256, shown.tell)
    shown.end()
    await opened.value.close()
    if (!imported.ok) {
      code = tell(io, imported.problems, EXIT.input)
      continue
    }
    const { study, specimens, recordings, known, readings, rigs, told } = imported.value
    for (const line of told) io.err(`tenterhook: ${printable(line, 300)}\n`)
    if (flags.json) io.out(`${JSON.stringify({ file: path, ...imported.value })}\n`)
    else {
      const rigText = rigs.length === 0 ? '' : `, rig ${rigs.map(name => `“${printable(name)}”`).join(', ')}`
      io.out(
        `${printable(path, 80)}: ${study.isNew ? 'new study' : 'study'} “${printable(study.name)}”, ${specimens} specimens: ${recordings} recordings taken in, ${known} there already, ${readings} readings${rigText}.\n`,
      )
    }
  }
  return code
}

async function importStores(
  store: Store,
  files: readonly string[],
  flags: ImportFlags,
  io: Io,
): Promise<ExitCode> {
  for (const file of files) {
    const imported = await store.care.importAll(await pathOfInput(file))
    if (!imported.ok) return tell(io, imported.problems, EXIT.input)
    const { added, known, renamed } = imported.value
    if (flags.json) io.out(`${JSON.stringify({ file, ...imported.value })}\n`)
    else {
      io.out(`${printable(file, 80)}: ${added} rows taken in, ${known} there already.\n`)
      for (const names of renamed) io.out(`  renamed: ${printable(names, 200)}\n`)
    }
  }
  return EXIT.ok
}
