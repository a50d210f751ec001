import { Command, InvalidArgumentError, Option } from 'commander'
import { MOST_STAGES } from '../../core/statistics/compare/rememberedLooks.ts'
import type { Goals } from '../../core/statistics/plan/goals.ts'
import { makePlan } from '../../core/statistics/plan/makePlan.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { positive, wholeNumber } from '../logOptions.ts'
import { type Amount, amountOf, type RigFlags, rigOf } from '../plan/planInput.ts'
import { planText } from '../plan/planText.ts'
import { scatterFrom, soFarFrom } from '../plan/records.ts'
import { openRig } from '../rigFile.ts'
import { tell } from '../tell.ts'
import { figureFile, writeFigure } from '../writeFigure.ts'

interface PlanFlags extends RigFlags {
  readonly variants?: readonly string[]
  readonly mean?: number
  readonly scatter?: Amount
  readonly records?: string
  readonly group?: string
  readonly value?: string
  readonly difference?: Amount
  readonly halfWidth?: Amount
  readonly bound?: number
  readonly boundWithin?: Amount
  readonly boundAbove?: Amount
  readonly within?: Amount
  readonly againstControl?: true
  readonly perBlock?: number
  readonly reacts?: Amount
  readonly trend?: Amount
  readonly proof?: number
  readonly letGo: number
  readonly power: number
  readonly looks: number
  readonly each?: number
  readonly unit: string
  readonly seed?: number
  readonly soFar?: string
  readonly rig?: string
  readonly json?: true
  readonly figure?: string
}

const HELP = `
An amount is a number in --unit, or a percentage of the mean: --difference 10%, --half-width 5.

Examples:
  tenterhook plan --variants paste,glue,stitch --scatter 8% --difference 15% --power 0.9
  tenterhook plan --variants paste,stitch --records earlier.csv --difference 10% --figure power.svg
  tenterhook plan --variants paste --mean 68 --scatter 5 --bound 90 --bound-above 50
  tenterhook plan --variants paste,glue --scatter 8% --within 10%
  tenterhook plan --variants paste --scatter 8% --proof 90 --let-go 1
  tenterhook plan --variants paste,stitch --scatter 8% --difference 15% --so-far values.csv
  tenterhook plan --variants paste,stitch --scatter 8% --mean 70 --capacity 500 --rate 10 --speed 0.5 --extension 12 --stroke 40

Exit codes: 0 planned; 2 the command line is wrong; 3 a file could not be understood; 4 a file could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description('Plans how many of each variant to pull, in which order, and whether the rig suits it.')
    .option('--variants <names>', 'what is to be compared, with commas between', names)
    .optionsGroup('What specimens of one kind are expected to do:')
    .option('--mean <value>', 'mean expected', positive)
    .addOption(
      new Option('--scatter <amount>', 'spread within a variant (standard deviation), a guess')
        .argParser(amountOf)
        .conflicts('records'),
    )
    .option('--records <table>', 'table of earlier values: their scatter within groups, and their mean')
    .option('--group <column>', 'column of groups in the tables')
    .option('--value <column>', 'column of values in the tables')
    .optionsGroup('What the plan is to reach (a difference of 10 % unless told):')
    .option('--difference <amount>', 'difference between two variants that is to be seen', amountOf)
    .option('--half-width <amount>', 'interval of each mean, half its width', amountOf)
    .option(
      '--bound <percent>',
      'lower bound that so many specimens exceed, with 95 % confidence',
      boundShare,
    )
    .option('--bound-within <amount>', 'the bound no more than so much too low (10 % unless told)', amountOf)
    .option(
      '--bound-above <amount>',
      'the bound is to come out above this; needs --mean or --records',
      amountOf,
    )
    .option('--within <amount>', 'show that variants are as good as each other to within so much', amountOf)
    .option('--against-control', 'the difference is one from a control, with which alone all are compared')
    .option(
      '--per-block <n>',
      'the difference is judged within days or batches, with so many of each in one',
      wholeNumber(1),
    )
    .option(
      '--reacts <amount>',
      'how much a variant reacts in its own way to a day or batch (half the scatter unless told)',
      amountOf,
    )
    .option(
      '--trend <amount>',
      'variants that differ by a number: the change from the first to the last that is to be seen',
      amountOf,
    )
    .option(
      '--proof <percent>',
      'pulled to a given load only: show that so many hold it, with 95 % confidence',
      boundShare,
    )
    .option('--let-go <n>', 'of a proof, so many that may let go', wholeNumber(0), 0)
    .option('--power <chance>', 'chance of reaching it', chance, 0.8)
    .option(
      '--looks <n>',
      'times that it is to be compared, with more pulled in between: what that costs is said (1 to 4)',
      looks,
      1,
    )
    .option('--each <n>', 'number of each, where it is settled', wholeNumber(1))
    .optionsGroup('The rig:')
    .option('--rig <file>', 'description of the rig, for what the options below leave open')
    .option('--capacity <value>', "the cell's capacity", positive)
    .option('--rate <hz>', 'readings a second', positive)
    .option('--averaged <n>', 'readings that the converter averages into one', wholeNumber(1))
    .option('--speed <mm/s>', 'speed of the grips', positive)
    .option('--stroke <mm>', 'stroke of the rig', positive)
    .option('--extension <mm>', 'extension of a specimen up to its break', positive)
    .option('--time-to-break <s>', 'seconds from the first tug to the break', positive)
    .option('--accuracy <percent>', 'part of the peak that may be lost between two readings', positive, 1)
    .optionsGroup('Order and progress:')
    .option(
      '--seed <n>',
      'brings the same order back; a new one is drawn and printed where it is not given',
      wholeNumber(0),
    )
    .option('--so-far <table>', 'values pulled so far, in order: advice on going on, corrected for looking')
    .option('--unit <unit>', 'unit of all amounts', 'N')
    .option('--json', 'the plan document')
    .option(
      '--figure <file>',
      'the chance of seeing it against the number of each (power curve), as .svg or .png',
      figureFile,
    )
    .addHelpText('after', HELP)
    .action(async (flags: PlanFlags) => done(await plan(flags, io)))
}

function names(text: string): string[] {
  const given = text.split(',').map(name => name.trim())
  if (given.some(name => name === '')) throw new InvalidArgumentError('One of the names is empty.')
  if (new Set(given).size < given.length) throw new InvalidArgumentError('A name comes twice.')
  return given
}

function chance(text: string): number {
  const value = text.endsWith('%') ? Number(text.slice(0, -1)) / 100 : Number(text)
  if (!(value > 0.05 && value < 1)) throw new InvalidArgumentError('It must lie between 0.05 and 1.')
  return value
}

function looks(text: string): number {
  const value = Number(text)
  if (!(Number.isInteger(value) && value >= 1 && value <= MOST_STAGES))
    throw new InvalidArgumentError(`It must be a whole number from 1 to ${MOST_STAGES}.`)
  return value
}

function boundShare(text: string): number {
  const value = Number(text.replace(/\s*%$/, '')) / 100
  if (!(value >= 0.5 && value <= 0.999))
    throw new InvalidArgumentError('It must be a percentage from 50 to 99.9.')
  return value
}

async function plan(flags: PlanFlags, io: Io): Promise<ExitCode> {
  const columns = { group: flags.group, value: flags.value }
  const scatter = await scatterFrom(flags, columns)
  const soFar = flags.soFar === undefined ? null : await soFarFrom(flags.soFar, columns)
  const problems = [scatter, soFar].flatMap(found => (found !== null && !found.ok ? found.problems : []))
  if (!scatter.ok || (soFar !== null && !soFar.ok)) return tell(io, problems, EXIT.input)
  const rig = flags.rig === undefined ? null : await openRig(flags.rig)
  if (rig !== null && !rig.ok) return tell(io, rig.problems, EXIT.input)
  const { mean } = scatter.value
  const goals = goalsOf(flags, scatter.value)
  const variants = flags.variants ?? namesSoFar(soFar?.value ?? null) ?? scatter.value.groups ?? ['A', 'B']
  const usage = usageProblem(flags, goals, mean)
  if (usage !== null) {
    io.err(`tenterhook: ${usage}\n`)
    return EXIT.usage
  }
  const planned = makePlan({
    variants,
    scatter: scatter.value,
    goals,
    power: flags.power,
    unit: scatter.value.inPercent ? '%' : flags.unit,
    seed: flags.seed ?? Math.floor(Math.random() * 1_000_000),
    perGroup: flags.each ?? null,
    stages: flags.looks,
    rig: rigOf(flags, rig?.value ?? null, mean, flags.unit),
    soFar: soFar?.value ?? null,
  })
  io.out(flags.json ? `${JSON.stringify(planned)}\n` : planText(planned, io))
  if (flags.figure === undefined) return EXIT.ok
  const { powerFigure } = await import('../../publish/figure/powerFigure.ts')
  const written = await writeFigure(flags.figure, powerFigure(planned))
  return written.ok ? EXIT.ok : tell(io, written.problems, EXIT.output)
}

const namesSoFar = (soFar: readonly { variant: string }[] | null): string[] | null =>
  soFar === null ? null : [...new Set(soFar.map(p => p.variant))]

/** Amounts in the plan's unit; with no mean known the unit is percent of it. */
function goalsOf(flags: PlanFlags, { mean, sd }: { mean: number | null; sd: number }): Goals {
  const inUnit = (amount: Amount): number =>
    amount.percent ? (amount.value / 100) * (mean ?? 100) : amount.value
  const asked =
    flags.difference ?? flags.halfWidth ?? flags.bound ?? flags.within ?? flags.trend ?? flags.proof
  const share = flags.bound ?? 0.9
  const above = flags.boundAbove === undefined ? null : { share, required: inUnit(flags.boundAbove) }
  const within =
    flags.bound !== undefined && above === null
      ? { share, within: inUnit(flags.boundWithin ?? TEN_PERCENT) }
      : null
  return {
    difference:
      flags.difference !== undefined
        ? inUnit(flags.difference)
        : asked === undefined && above === null
          ? inUnit(TEN_PERCENT)
          : null,
    halfWidth: flags.halfWidth === undefined ? null : inUnit(flags.halfWidth),
    boundWithin: within,
    boundAbove: above,
    within: flags.within === undefined ? null : inUnit(flags.within),
    trend: flags.trend === undefined ? null : inUnit(flags.trend),
    againstControl: flags.againstControl === true,
    blocks:
      flags.perBlock === undefined
        ? null
        : { perBlock: flags.perBlock, reacts: flags.reacts === undefined ? sd / 2 : inUnit(flags.reacts) },
    proof: flags.proof === undefined ? null : { share: flags.proof, letGo: flags.letGo },
  }
}

const TEN_PERCENT: Amount = { value: 10, percent: true }

function usageProblem(flags: PlanFlags, goals: Goals, mean: number | null): string | null {
  if (goals.boundAbove !== null && mean === null)
    return '--bound-above needs the mean expected: give --mean or --records.'
  if (
    flags.figure !== undefined &&
    goals.difference === null &&
    goals.trend === null &&
    goals.within === null
  )
    return 'the figure shows the chance of seeing a difference or a trend, or that variants are as good as each other: give --difference, --trend or --within.'
  const amounts = [
    flags.scatter,
    flags.difference,
    flags.halfWidth,
    flags.boundWithin,
    flags.within,
    flags.trend,
    flags.reacts,
  ]
  const kinds = new Set(amounts.flatMap(a => (a === undefined ? [] : [a.percent])))
  if (mean === null && kinds.size > 1)
    return 'percentages and amounts together need the mean expected: give --mean.'
  return null
}
