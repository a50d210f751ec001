import { Command, InvalidArgumentError, Option } from 'commander'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { type RelativeScatter, relativeScatter } from '../../core/statistics/compare/borrowed.ts'
import { tooFewLike } from '../../core/statistics/compare/borrowedAnswer.ts'
import { compareGroups } from '../../core/statistics/compare/compareGroups.ts'
import { STUDY_COVARIATES } from '../../core/statistics/compare/compareStudy.ts'
import { knownModes } from '../../core/statistics/compare/modes.ts'
import { DEFAULT_PATTERN } from '../../core/statistics/compare/namePattern.ts'
import { measuredOf, valuesOf } from '../../core/statistics/compare/specimen.ts'
import { list, type Scale } from '../../core/statistics/compare/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import type { PublishedStudy } from '../../publish/study/study.ts'
import { compareText } from '../compare/compareText.ts'
import type { OpenedReading } from '../compare/readJob.ts'
import { addSourceOptions, SOURCES_OF_FILES } from '../compare/sourceOptions.ts'
import { type CompareFlags, type Found, fromFiles, fromTable, prepared } from '../compare/sources.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { addLogOptions } from '../logOptions.ts'
import { STORE_OPTION } from '../openStore.ts'
import { withStudy } from '../publish/withStudy.ts'
import { tell } from '../tell.ts'
import { figureFile, writeFigure } from '../writeFigure.ts'

interface CompareCommandFlags extends CompareFlags {
  readonly table?: string
  readonly study?: string
  readonly store?: string
  readonly json?: true
  readonly figure?: string
  readonly draw: 'dots' | 'weibull' | 'overlay' | 'trend'
  readonly align: 'start' | 'peak' | 'break'
  readonly again?: true
  readonly earlier?: readonly number[]
}

const HELP = `
Name pattern: a file name with fields in its place. {variant} is the group, {n} a running number, {part} a letter or
nothing (logs of one specimen), {day}, {batch}, {operator} and {order} what they say; * is anything, the rest stands
for itself. Without --by: the variants of --specimens, of reading documents, or names like ${DEFAULT_PATTERN}.

Tables: a row a specimen, with a column of groups and one of values (further columns by name: specimen, status, doubt,
mode, day, order, dropped, width_mm, thickness_mm, length_mm); or a column a group. An empty value was not recorded,
>68.2 is a specimen that held at least so much.

Examples:
  tenterhook compare --by "{variant}-{n}.csv" paste-*.csv stitch-*.csv
  tenterhook compare --study Handles
  tenterhook compare --table values.csv --group glue --value "peak (kgf)" --figure dots.svg
  tenterhook compare --specimens bags.csv --block day --control paste --json readings.jsonl
  tenterhook compare --per width --draw overlay --align break --figure curves.svg --specimens bags.csv *.csv

Exit codes: 0 compared; 2 the command line is wrong; 3 a file could not be understood; 4 a file could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description(
      'Compares groups of specimens: what was seen, what was not, and how many more it would take.',
    )
    .argument('[file...]', 'logs, or readings as `read --json` prints them (.json, .jsonl)')
    .addOption(
      new Option('--table <file>', 'a table of values instead of logs').conflicts([
        'by',
        'specimens',
        'adjust',
      ]),
    )
    .addOption(
      new Option('--study <name>', 'study of the store, by its name or id, instead of files').conflicts(
        OF_FILES,
      ),
    )
    .option(...STORE_OPTION)
    .option('--group <column>', 'column of groups in the table, by name or number')
    .option('--value <column>', 'column of values in the table')
    .option(
      '--again',
      'more may be pulled and compared again: keeps a fifth of the chance of a false alarm for it',
    )
    .option(
      '--earlier <n,n>',
      'specimens of each at the earlier looks, begun with --again: this one is judged as a later stage',
      numbersOfEach,
    )
    .option(
      '--covariate <name>',
      'width, thickness or length (or a column of a table): compare as if all had the same of it',
    )
    .option(
      '--like <table>',
      'table of values of like specimens of the same rig: 2 to 4 of a group may borrow their scatter',
    )
    .option('--against <group>', 'compare all others with this group, and not with each other')
    .option(
      '--mode <name>',
      'compare one way of failing alone: what failed in another held at least so much against it',
    )
    .option('--json', 'the comparison document')
    .option('--figure <file>', 'also draw it, as .svg or .png', figureFile)
    .addOption(
      new Option('--draw <what>', 'which figure')
        .choices(['dots', 'weibull', 'overlay', 'trend'])
        .default('dots'),
    )
    .addOption(
      new Option('--align <where>', 'where an overlay puts its curves together')
        .choices(['start', 'peak', 'break'])
        .default('start'),
    )
  return addLogOptions(addSourceOptions(command))
    .addHelpText('after', HELP)
    .action(async (files: string[], flags: CompareCommandFlags) => done(await compare(files, flags, io)))
}

function numbersOfEach(text: string): number[] {
  const numbers = text.split(',').map(Number)
  if (!numbers.every((n, i) => n >= 1 && (i === 0 || n > numbers[i - 1]!)))
    throw new InvalidArgumentError('Give rising numbers of specimens, as in 3 or 3,5.')
  return numbers
}

async function compare(files: readonly string[], flags: CompareCommandFlags, io: Io): Promise<ExitCode> {
  const usage = usageProblem(files, flags)
  if (usage !== null) {
    io.err(`tenterhook: ${usage}\n`)
    return EXIT.usage
  }
  if (flags.study !== undefined) return compareStudy(flags, io)
  const keepRecordings = flags.figure !== undefined && flags.draw === 'overlay'
  const found =
    flags.table === undefined
      ? await fromFiles(files, flags, io, { keepRecordings })
      : await fromTable(flags.table, flags)
  if (!found.ok) return tell(io, found.problems, EXIT.input)
  const ready = prepared(found.value, flags)
  if (!ready.ok) return tell(io, ready.problems, EXIT.input)
  const { specimens, unit, shown, quantity, warnings } = ready.value
  const { against } = flags
  if (against !== undefined && !specimens.some(({ group }) => group === against)) {
    io.err(`tenterhook: no group is called “${printable(against)}”: --against names one of the groups.\n`)
    return EXIT.usage
  }
  const noMode = modeProblem(flags.mode, knownModes(specimens))
  if (noMode !== null) {
    io.err(`tenterhook: ${noMode}\n`)
    return EXIT.usage
  }
  const like = await likeFrom(flags)
  if (!like.ok) return tell(io, like.problems, EXIT.input)
  const comparison = compareGroups(specimens, {
    quantity,
    unit,
    shown,
    blocksBy: flags.block ?? null,
    control: flags.control ?? null,
    against: flags.against ?? null,
    mode: flags.mode ?? null,
    covariate: flags.covariate ?? null,
    like: like.value,
    worthShare: flags.worth,
    looks: flags.earlier ? { earlier: flags.earlier } : flags.again ? { earlier: [] } : null,
    seed: flags.seed,
    warnings,
  })
  if (flags.json) io.out(`${JSON.stringify(comparison)}\n`)
  else io.out(compareText(comparison, shown, io))
  if (!flags.json || io.errIsTerminal) io.err(`(${printable(found.value.understood, 300)})\n`)
  return flags.figure === undefined ? EXIT.ok : draw(flags.figure, comparison, ready.value, flags, io)
}

/** `null` where some specimen failed so. */
function modeProblem(mode: string | undefined, known: readonly string[]): string | null {
  if (mode === undefined || known.includes(mode)) return null
  return known.length === 0
    ? '--mode needs to know how each specimen failed: give a column mode.'
    : `no specimen failed by “${printable(mode)}”: --mode is ${list(known.map(name => printable(name, 40)))}.`
}

/** Scatters of the groups of a table of like specimens. Problems: too few groups that show one. */
async function likeFrom({ like, group, value }: CompareFlags): Promise<Outcome<RelativeScatter[] | null>> {
  if (like === undefined) return fine(null)
  const found = await fromTable(like, { group, value } as CompareFlags)
  if (!found.ok) return found
  const names = [...new Set(found.value.specimens.map(s => s.group))]
  const scatters = names.flatMap(
    name => relativeScatter(valuesOf(measuredOf(found.value.specimens.filter(s => s.group === name)))) ?? [],
  )
  const few = tooFewLike(scatters.length)
  return few === null
    ? fine(scatters)
    : wrong({ where: like, what: few, cure: 'Give a table with more groups of two or more values.' })
}

/** Of files alone: a study of the store has them of its own. */
const OF_FILES = [...SOURCES_OF_FILES, 'table', 'like']

const isCovariate = (name: string | undefined): name is (typeof STUDY_COVARIATES)[number] =>
  STUDY_COVARIATES.some(one => one === name)

/** The variants of a study of the store, as the app compares them. */
const compareStudy = (flags: CompareCommandFlags, io: Io): Promise<ExitCode> => {
  const { against, mode, covariate } = flags
  const compared = {
    ...(against === undefined ? {} : { against }),
    ...(mode === undefined ? {} : { mode }),
    ...(isCovariate(covariate) ? { covariate } : {}),
  }
  return withStudy([], flags, io, study => toldStudy(study, flags, io), { compared })
}

async function toldStudy(study: PublishedStudy, flags: CompareCommandFlags, io: Io): Promise<ExitCode> {
  const { comparison, comparedWith, notCompared } = study
  const { against, mode } = flags
  if (
    comparison !== null &&
    against !== undefined &&
    !comparison.groups.some(({ name }) => name === against)
  ) {
    io.err(`tenterhook: no variant is called “${printable(against)}”: --against names one of the study.\n`)
    return EXIT.usage
  }
  const noMode = comparison === null ? null : modeProblem(mode, knownModes(comparison.specimens))
  if (noMode !== null) {
    io.err(`tenterhook: ${noMode}\n`)
    return EXIT.usage
  }
  if (comparison === null) {
    const what = notCompared ?? 'there is nothing to compare.'
    return tell(
      io,
      [{ where: `study “${study.name}”`, what, cure: 'See tenterhook specimen list.' }],
      EXIT.input,
    )
  }
  if (flags.json) io.out(`${JSON.stringify(comparison)}\n`)
  else io.out(compareText(comparison, comparedWith?.shown ?? null, io))
  if (flags.figure === undefined) return EXIT.ok
  const { studyFigure } = await import('../../publish/figure/studyFigure.ts')
  const svg = studyFigure(study, flags.draw === 'trend' ? 'dots' : flags.draw, { align: flags.align })
  if (!svg.ok) return tell(io, svg.problems, EXIT.input)
  const written = await writeFigure(flags.figure, svg.value)
  return written.ok ? EXIT.ok : tell(io, written.problems, EXIT.output)
}

function usageProblem(files: readonly string[], flags: CompareCommandFlags): string | null {
  if (flags.table !== undefined && files.length > 0) return 'give either files or --table, not both.'
  if (flags.study !== undefined) {
    if (files.length > 0) return 'give either files or --study, not both.'
    if (flags.again || flags.earlier)
      return '--again and --earlier are for files: a --study remembers its looks by itself.'
    if (flags.draw === 'trend') return '--draw trend is for files, not for a --study.'
    if (flags.covariate !== undefined && !isCovariate(flags.covariate))
      return `--covariate of a --study is ${list(STUDY_COVARIATES)}, not “${printable(flags.covariate)}”.`
    return null
  }
  if (flags.table === undefined && files.length === 0)
    return 'nothing to compare. Name logs or readings, a --study of the store, or give --table values.csv.'
  if (flags.table !== undefined && flags.draw === 'overlay')
    return 'a table has no curves: --draw overlay needs logs.'
  if (flags.table === undefined && (flags.group !== undefined || flags.value !== undefined))
    return '--group and --value name columns of a --table.'
  if (
    flags.table === undefined &&
    flags.block !== undefined &&
    !['day', 'batch', 'operator'].includes(flags.block)
  )
    return `--block of logs is day, batch or operator, not “${printable(flags.block)}”.`
  return null
}

async function draw(
  path: string,
  comparison: Comparison,
  { opened, shown }: Found,
  flags: CompareCommandFlags,
  io: Io,
): Promise<ExitCode> {
  const svg = await figureOf(comparison, opened, shown, flags)
  if (!svg.ok) return tell(io, svg.problems, EXIT.input)
  const written = await writeFigure(path, svg.value)
  return written.ok ? EXIT.ok : tell(io, written.problems, EXIT.output)
}

async function figureOf(
  comparison: Comparison,
  opened: readonly OpenedReading[],
  shown: Scale['shown'],
  { draw: what, align }: CompareCommandFlags,
): Promise<Outcome<string>> {
  if (what === 'weibull') {
    const { weibullFigure } = await import('../../publish/figure/weibullFigure.ts')
    return fine(weibullFigure(comparison, { shown }))
  }
  if (what === 'trend') {
    const { trendFigure } = await import('../../publish/figure/trendFigure.ts')
    const svg = trendFigure(comparison, { shown })
    return svg !== null
      ? fine(svg)
      : wrong({
          where: '--draw trend',
          what: 'the groups do not differ by a number in their names.',
          cure: 'Name at least three groups by a number in one unit, as in 10 mm, 20 mm, 30 mm.',
        })
  }
  if (what === 'overlay') {
    const { overlayFigure } = await import('../../publish/figure/overlayFigure.ts')
    const curves = opened.flatMap(({ recording, reading, facts }) =>
      recording === null ? [] : [{ recording, reading, group: facts.group, name: facts.name }],
    )
    return curves.length > 0
      ? fine(overlayFigure(curves, { align, shown }))
      : wrong({
          where: '--draw overlay',
          what: 'reading documents hold no curve.',
          cure: 'Give the logs themselves.',
        })
  }
  const { dotsFigure } = await import('../../publish/figure/dotsFigure.ts')
  return fine(dotsFigure(comparison, { shown }))
}
