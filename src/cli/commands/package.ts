import { stat } from 'node:fs/promises'
import { Command, InvalidArgumentError, Option } from 'commander'
import { printable } from '../../core/printable.ts'
import { LICENCES, type Licence, licenceOf } from '../../publish/package/licences.ts'
import type { PublishedStudy } from '../../publish/study/study.ts'
import { besideOutput, throughOutput } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { progress } from '../progress.ts'
import { addStudyOptions, type StudyFlags } from '../publish/studyOptions.ts'
import { withStudy } from '../publish/withStudy.ts'
import { tell } from '../tell.ts'

interface PackageFlags extends StudyFlags {
  readonly out: string
  readonly licence: Licence | null
  readonly author: readonly string[]
  readonly madeAt?: string
  readonly json?: true
}

const HELP = `
A package is a folder, or a zip where the name ends in .zip: the recordings as received, the samples as CSV and Parquet,
readings, comparison and rig as JSON, a table of specimens, photos, and datapackage.json (Frictionless Data Package)
with the size, the SHA-256 and the columns of each. It is checked as \`tenterhook verify\` checks it before it is done.

Licences: ${LICENCES.map(licence => licence.name).join(', ')}, another as NAME=https://its-text, or none. Without one all
rights are reserved: others may look but not build on it.

Examples:
  tenterhook package --study Handles --licence CC-BY-4.0 --author "Ada Byron" --out handles.zip
  tenterhook package --study Handles --initials --out handles
  tenterhook package --specimens bags.csv --rig rig.json --name Handles --out handles.zip *.csv

Exit codes: 0 written, and every figure is what its raw data give; 1 written, but some figures are not: read those
specimens anew; 2 the command line is wrong; 3 the study could not be understood; 4 it could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description('Puts a study into a data package that others can check and use.')
    .argument('[file...]', 'logs, or readings as `read --json` prints them')
    .requiredOption(
      '--out <path>',
      'folder to make, or a file that ends in .zip; - for a zip on standard output',
    )
    .addOption(
      new Option('--licence <name>', 'what others may do with it').argParser(licence).default(null, 'none'),
    )
    .addOption(
      new Option('--author <name>', 'who is to be cited; may be given again')
        .argParser((name: string, before: readonly string[]) => [...before, name])
        .default([], 'none'),
    )
    .option('--made-at <moment>', 'moment to write into it, for the same bytes again (ISO 8601)', moment)
    .option('--json', 'what was written and checked as JSON')
  return addStudyOptions(command)
    .addHelpText('after', HELP)
    .action(async (files: string[], flags: PackageFlags) =>
      done(
        await withStudy(files, flags, io, study =>
          throughOutput(flags.out, '.zip', path => pack(study, path, flags, besideOutput(flags.out, io))),
        ),
      ),
    )
}

function licence(word: string): Licence | null {
  const found = licenceOf(word)
  if (found.ok) return found.value
  throw new InvalidArgumentError(found.problems.map(problem => problem.cure).join(' '))
}

function moment(word: string): string {
  const at = new Date(word)
  if (Number.isNaN(at.getTime()))
    throw new InvalidArgumentError('It must be a moment as in 2026-05-04T14:20:00Z.')
  return at.toISOString()
}

async function pack(found: PublishedStudy, path: string, flags: PackageFlags, io: Io): Promise<ExitCode> {
  const { packageFiles, packageLength } = await import('../../publish/package/packageFiles.ts')
  const { openPackage, writePackage } = await import('../package/nodePackage.ts')
  const { sha256 } = await import('../../server/hash.ts')
  const study = flags.madeAt === undefined ? found : { ...found, madeAt: flags.madeAt }
  const options = { licence: flags.licence, authors: flags.author, sha256 }
  const all = packageLength(study, options)
  const packing = progress(io, 'packing')
  let files = 0
  const counted = async function* () {
    for await (const file of packageFiles(study, options)) {
      packing.tell(files, all)
      files++
      yield file
    }
  }
  const written = await writePackage(path, counted(), study.madeAt)
  packing.end()
  if (!written.ok) return tell(io, written.problems, EXIT.output)
  const opened = await openPackage(path)
  if (!opened.ok) return tell(io, opened.problems, EXIT.output)
  const { verifyPackage, isSound } = await import('../../publish/package/verifyPackage.ts')
  const { openRaw } = await import('../../server/openRaw.ts')
  const checking = progress(io, 'checking')
  const verified = await verifyPackage(opened.value.source, sha256, openRaw, checking.tell)
  checking.end()
  await opened.value.close()
  if (!verified.ok) return tell(io, verified.problems, EXIT.output)
  const sound = isSound(verified.value)
  if (flags.json)
    io.out(
      `${JSON.stringify({ path: flags.out, licence: flags.licence?.name ?? null, sound, ...verified.value })}\n`,
    )
  else {
    const { size } = await stat(path)
    const zipped = /\.zip$/i.test(path) ? `, ${megabytes(size)} MB` : ''
    const { verifiedText } = await import('../package/verifiedText.ts')
    io.out(`${printable(flags.out, 200)}: ${files} files${zipped}.\n`)
    io.out(
      flags.licence === null
        ? 'Licence: none was chosen, so all rights are reserved. See --licence.\n'
        : `Licence: ${flags.licence.title}.\n`,
    )
    if (flags.initials)
      io.out('Initials: names inside the raw recordings stay, since those are as they were received.\n')
    io.out(verifiedText(verified.value))
    if (!sound)
      io.err(
        'tenterhook: some figures are not what their raw data give now: read those specimens anew, then make the package again.\n',
      )
  }
  return sound ? EXIT.ok : EXIT.doubtful
}

const megabytes = (bytes: number): string => (bytes / 1e6).toFixed(bytes < 1e7 ? 2 : 0)
