import { Command, Option } from 'commander'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { list } from '../../core/statistics/compare/words.ts'
import type { TimeLine } from '../../core/statistics/timeLine/document.ts'
import { timeLine } from '../../core/statistics/timeLine/timeLine.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import { aligned } from '../compare/columnsText.ts'
import { type CompareFlags, fromTable } from '../compare/sources.ts'
import { besideOutput } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { STORE_OPTION, withStore } from '../openStore.ts'
import { openChecks } from '../rigFile.ts'
import { tell } from '../tell.ts'
import { pen, wrapped } from '../terminal.ts'
import { figureFile, writeFigure } from '../writeFigure.ts'

interface TimelineFlags {
  readonly study?: string
  readonly store?: string
  readonly table?: string
  readonly group?: string
  readonly value?: string
  readonly unit?: string
  readonly control?: string
  readonly checks?: string
  readonly json?: true
  readonly figure?: string
}

const HELP = `
The control variant is pulled on every day of work, and the rig is checked with a known mass. Where the control moved and the
checks did not, the specimens changed; where the checks moved with it, the rig did; where the same recordings, read again
by a newer engine, moved so far, the reading did. A change is told by mistake on about one healthy day in 200.

Examples:
  tenterhook timeline --study Handles
  tenterhook timeline --table values.csv --control paste --checks rig.checks.jsonl --figure weeks.svg

Exit codes: 0 nothing is told; 1 a change is told; 2 the command line is wrong; 3 a file cannot be used; 4 a file could
not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description('Over the weeks: what changed, the specimens, the rig or the reading?')
    .addOption(
      new Option('--study <name>', 'study of the store, by its name or id').conflicts(['table', 'checks']),
    )
    .option(...STORE_OPTION)
    .option('--table <file>', 'a table with columns group, value and day')
    .option('--group <column>', 'column of groups in the table')
    .option('--value <column>', 'column of values in the table')
    .option('--unit <unit>', 'unit of the values')
    .option('--control <variant>', 'the control variant; of a study the one marked as such, unless told')
    .option('--checks <file>', 'the checks of the rig, for a table: rig.checks.jsonl')
    .option('--json', 'the time line document')
    .option('--figure <file>', 'draw it, as .svg or .png', figureFile)
    .addHelpText('after', HELP)
    .action(async (flags: TimelineFlags) => done(await run(flags, besideOutput(flags.figure, io))))
}

async function run(flags: TimelineFlags, io: Io): Promise<ExitCode> {
  if ((flags.study === undefined) === (flags.table === undefined)) {
    io.err('tenterhook timeline: give either --study or --table.\n')
    return EXIT.usage
  }
  if (flags.table !== undefined && flags.control === undefined) {
    io.err('tenterhook timeline: --control says which group of the table is the control variant.\n')
    return EXIT.usage
  }
  if (flags.table !== undefined) return told(await ofTable(flags.table, flags), flags, io)
  return withStore(io, flags.store, async store => {
    const { studyOf } = await import('../../server/publishedStudy.ts')
    const { timeLineOfStudy } = await import('../../server/timeLine.ts')
    const study = await studyOf(store, flags.study ?? '')
    if (!study.ok) return tell(io, study.problems, EXIT.input)
    return told(await timeLineOfStudy(store, study.value.id, flags.control ?? null), flags, io)
  })
}

async function ofTable(path: string, flags: TimelineFlags): Promise<Outcome<TimeLine>> {
  const { group, value, unit, control = '' } = flags
  const found = await fromTable(path, { group, value, unit } as CompareFlags)
  if (!found.ok) return found
  const checks = flags.checks === undefined ? null : await openChecks(flags.checks)
  if (checks !== null && !checks.ok) return checks
  const own = found.value.specimens.filter(s => s.group === control)
  if (own.length === 0)
    return wrong({
      where: path,
      what: `no group is called “${printable(control)}”.`,
      cure: `The groups are ${list([...new Set(found.value.specimens.map(s => printable(s.group, 30)))])}.`,
    })
  return fine(
    timeLine({
      control,
      unit: found.value.unit,
      pulls: own.flatMap(({ name, day, value: figure, dropped, status }) =>
        figure === null || dropped !== null || status !== 'measured'
          ? []
          : [{ name, day, value: figure, engine: null }],
      ),
      checks: checks?.value.checks ?? [],
      readTwice: [],
    }),
  )
}

async function told(found: Outcome<TimeLine>, flags: TimelineFlags, io: Io): Promise<ExitCode> {
  if (!found.ok) return tell(io, found.problems, EXIT.input)
  const line = found.value
  io.out(flags.json ? `${JSON.stringify(line)}\n` : lineText(line, io))
  if (flags.figure !== undefined) {
    const { timeLineFigure } = await import('../../publish/figure/timeLineFigure.ts')
    const written = await writeFigure(flags.figure, timeLineFigure(line))
    if (!written.ok) return tell(io, written.problems, EXIT.output)
  }
  return line.findings.length > 0 ? EXIT.doubtful : EXIT.ok
}

/** Days listed before the oldest are left out. */
const MOST_DAYS = 30

function lineText(line: TimeLine, io: Io): string {
  const columns = Math.max(40, Math.min(io.columns, 100))
  const stroke = pen(io)
  const days = [...new Set([...line.control.days, ...line.checks.days].map(({ day }) => day))].sort()
  const rows = days.slice(-MOST_DAYS).map(day => {
    const control = line.control.days.find(one => one.day === day)
    const check = line.checks.days.find(one => one.day === day)
    const marks = line.findings.flatMap(({ from, code }) => (from === day ? [code.replaceAll('-', ' ')] : []))
    return [
      day,
      control === undefined ? '' : `${signed(control.pct)} %`,
      control === undefined ? '' : String(control.n),
      check === undefined ? '' : `${signed(check.errorPct)} %`,
      marks.join(', '),
    ]
  })
  const steps = line.readAgain.map(
    ({ from, to, n, moved, meanPct, greatestPct }) =>
      `Read again by ${to} instead of ${from}: ${moved} of ${n} came out another, ${signed(meanPct)} % on average, ${signed(greatestPct)} % at the most.`,
  )
  const parts = [
    stroke(line.findings.length > 0 ? 'warning' : 'strong', wrapped(printable(line.verdict, 4000), columns)),
    rows.length === 0
      ? ''
      : aligned([['day', printable(line.control.name, 30), 'n', 'check', ''], ...rows], 'left'),
    ...steps.map(text => wrapped(text, columns)),
    ...line.warnings.map(({ text }) => stroke('warning', wrapped(printable(`! ${text}`, 4000), columns))),
  ]
  return `${parts.filter(text => text !== '').join('\n\n')}\n`
}

const signed = (pct: number): string => `${pct < 0 ? '' : '+'}${plainNumber(pct, 2)}`
