import { Command, InvalidArgumentError, Option } from 'commander'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { type RelativeScatter, relativeScatter } from '../../core/statistics/compare/borrowed.ts'
import { tooFewLike } from '../../core/statistics/compare/borrowedAnswer.ts'
import { compareGroups } from '../../core/statistics/compare/compareGroups.ts'
import type { Looks } from '../../core/statistics/compare/looks.ts'
import { knownModes } from '../../core/statistics/compare/modes.ts'
import { DEFAULT_PATTERN } from '../../core/statistics/compare/namePattern.ts'
import { measuredOf, valuesOf } from '../../core/statistics/compare/specimen.ts'
import { list, type Scale } from '../../core/statistics/compare/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { compareText } from '../compare/compareText.ts'
import { type FoundInStudy, fromStudy } from '../compare/fromStudy.ts'
import { addSourceOptions } from '../compare/sourceOptions.ts'
import {
  type CompareFlags,
  type Found,
  fromFiles,
  fromTable,
  isDimension,
  prepared,
} from '../compare/sources.ts'
import { besideOutput } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { addLogOptions, LOG_OPTIONS, positive } from '../logOptions.ts'
import { STORE_OPTION, withStore } from '../openStore.ts'
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
    .option(
      '--holds <load>',
      'also say how many held this load, in the unit shown, and what share of all does at the least',
      positive,
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
    .action(async (files: string[], flags: CompareCommandFlags) =>
      done(await compare(files, flags, besideOutput(flags.figure, io))),
    )
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
  const keepRecordings = flags.figure !== undefined && flags.draw === 'overlay'
  const { study, table } = flags
  if (study !== undefined)
    return withStore(io, flags.store, async store => {
      const found = await fromStudy(store, study, flags, { keepRecordings })
      return found.ok ? compareFound(found.value, flags, io) : tell(io, found.problems, EXIT.input)
    })
  const found =
    table === undefined
      ? await fromFiles(files, flags, io, { keepRecordings })
      : await fromTable(table, flags)
  return found.ok ? compareFound(found.value, flags, io) : tell(io, found.problems, EXIT.input)
}

/** What the flags say counts for more than what the study itself says. */
async function compareFound(
  found: Found & Partial<Pick<FoundInStudy, 'per' | 'control' | 'looks' | 'withNext'>>,
  flags: CompareCommandFlags,
  io: Io,
): Promise<ExitCode> {
  const per = flags.per ?? found.per
  const ready = prepared(found, { ...flags, ...(per ? { per } : {}) })
  if (!ready.ok) return tell(io, ready.problems, EXIT.input)
  const { specimens, unit, shown, quantity, warnings, understood } = ready.value
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
  const compared = compareGroups(specimens, {
    quantity,
    unit,
    shown,
    blocksBy: flags.block ?? null,
    control: flags.control ?? found.control ?? null,
    against: against ?? null,
    mode: flags.mode ?? null,
    covariate: flags.covariate ?? null,
    like: like.value,
    proofLoad: flags.holds === undefined ? null : flags.holds * (shown?.per ?? 1),
    worthShare: flags.worth,
    looks: looksFrom(flags) ?? found.looks ?? null,
    seed: flags.seed,
    warnings,
  })
  const comparison = found.withNext?.(compared) ?? compared
  if (flags.json) io.out(`${JSON.stringify(comparison)}\n`)
  else io.out(compareText(comparison, shown, io))
  if (!flags.json || io.errIsTerminal) io.err(`(${printable(understood, 300)})\n`)
  return flags.figure === undefined ? EXIT.ok : draw(flags.figure, comparison, ready.value, flags, io)
}

/** `null` where some specimen failed so. */
function modeProblem(mode: string | undefined, known: readonly string[]): string | null {
  if (mode === undefined || known.includes(mode)) return null
  return known.length === 0
    ? '--mode needs to know how each specimen failed: give a column mode.'
    : `no specimen failed by “${printable(mode)}”: --mode is ${list(known.map(name => printable(name, 40)))}.`
}
const looksFrom = ({ earlier, again }: CompareCommandFlags): Looks | null =>
  earlier ? { earlier } : again ? { earlier: [] } : null

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

/** What says how files are to be understood: in the store that is said already, of each specimen and each log. */
const OF_FILES = ['by', 'specimens', 'rig', 'adjust', 'table', ...LOG_OPTIONS]

function usageProblem(files: readonly string[], flags: CompareCommandFlags): string | null {
  if (flags.table !== undefined && files.length > 0) return 'give either files or --table, not both.'
  if (flags.study !== undefined && files.length > 0) return 'give either files or --study, not both.'
  if (flags.table === undefined && flags.study === undefined && files.length === 0)
    return 'nothing to compare. Name logs or readings, a --study of the store, or give --table values.csv.'
  if (flags.table !== undefined && flags.draw === 'overlay')
    return 'a table has no curves: --draw overlay needs logs.'
  if (
    flags.table === undefined &&
    flags.like === undefined &&
    (flags.group !== undefined || flags.value !== undefined)
  )
    return '--group and --value name columns of a --table.'
  if (
    flags.table === undefined &&
    flags.block !== undefined &&
    !['day', 'batch', 'operator'].includes(flags.block)
  )
    return `--block is day, batch or operator, not “${printable(flags.block)}”; only a --table has others.`
  if (flags.table === undefined && flags.covariate !== undefined && !isDimension(flags.covariate))
    return `--covariate is width, thickness or length, not “${printable(flags.covariate)}”; only a --table has others.`
  return null
}

async function draw(
  path: string,
  comparison: Comparison,
  { curves, shown }: Found,
  flags: CompareCommandFlags,
  io: Io,
): Promise<ExitCode> {
  const svg = await figureOf(comparison, curves, shown, flags)
  if (!svg.ok) return tell(io, svg.problems, EXIT.input)
  const written = await writeFigure(path, svg.value)
  return written.ok ? EXIT.ok : tell(io, written.problems, EXIT.output)
}

async function figureOf(
  comparison: Comparison,
  curves: Found['curves'],
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
    return curves.length > 0
      ? fine(overlayFigure(curves, { align, shown }))
      : wrong({
          where: '--draw overlay',
          what: 'what is compared has no curve.',
          cure: 'Give the logs themselves.',
        })
  }
  const { dotsFigure } = await import('../../publish/figure/dotsFigure.ts')
  return fine(dotsFigure(comparison, { shown }))
}
