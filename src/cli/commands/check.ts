import { Command } from 'commander'
import {
  applyRig,
  calibrationFor,
  forceByCalibration,
  noCalibration,
} from '../../core/calibration/applyRig.ts'
import { type CheckFigures, comparable, judgeCheck } from '../../core/calibration/judgeCheck.ts'
import { type KnownLoad, knownLoad } from '../../core/calibration/knownLoad.ts'
import { findHang } from '../../core/calibration/plateaus.ts'
import type { Rig, RigCalibration } from '../../core/calibration/rig.ts'
import { gravityOf, tensionOf } from '../../core/calibration/rigFacts.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { parseForceUnit } from '../../core/units/force.ts'
import { checkFigure } from '../../publish/figure/checkFigure.ts'
import { noteLines } from '../calibrationText.ts'
import { checkText } from '../checkText.ts'
import { besideOutput } from '../files.ts'
import { addGravityOptions, type GravityFlags, gravityOfFlags } from '../gravityFlags.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { addLogOptions, type LogFlags, logOptionsOf } from '../logOptions.ts'
import { openLogFile } from '../openLogs.ts'
import {
  type Load,
  limitsOf,
  load,
  type Tolerance,
  type TypedReading,
  tolerance,
  typedReading,
} from '../quantity.ts'
import { addCheck, checksPathOf, openChecks, openRig } from '../rigFile.ts'
import { tell } from '../tell.ts'
import { figureFile, writeFigure } from '../writeFigure.ts'

interface CheckFlags extends LogFlags, GravityFlags {
  readonly rig: string
  readonly mass: Load
  readonly massTolerance?: Tolerance
  readonly reading?: TypedReading
  readonly zero?: TypedReading
  readonly checks?: string
  readonly at?: string
  readonly dryRun?: true
  readonly json?: true
  readonly figure?: string
}

const EXAMPLES = `
The log shows the empty hook, then the mass, each for a few seconds. Every check is kept beside the rig file, as
rig.checks.jsonl, and never changed.

Examples:
  tenterhook check --rig rig.json --mass 1.000kg morning.csv
  tenterhook check --rig rig.json --mass 1.000kg --reading 69630 --zero 50012

Exit codes: 0 the rig reads as it should; 1 it does not; 2 the command line is wrong; 3 a file cannot be used;
4 a file could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description(
      'The check before a day’s work: one known mass against the calibration and the checks before.',
    )
    .argument('[log]', 'log with the empty hook and the mass')
    .requiredOption('--rig <file>', 'description of the rig, with its calibration')
    .requiredOption('--mass <load>', 'the known mass or force, as in 1.000kg', load)
    .option('--mass-tolerance <limits>', 'limits ± of it, as in 0.1% or 1g', tolerance)
    .option('--reading <reading>', 'reading with the mass, instead of a log', typedReading)
    .option('--zero <reading>', 'reading of the empty hook', typedReading)
    .option('--checks <file>', 'where the checks are kept, if not beside the rig')
    .option('--at <time>', 'time of the check, as in 2026-05-03T08:00:00Z (now)')
    .option('--dry-run', 'judge, but keep nothing')
    .option('--json', 'the check document')
    .option('--figure <file>', 'draw the chart of the checks, as .svg or .png', figureFile)
  return addLogOptions(addGravityOptions(command))
    .addHelpText('after', EXAMPLES)
    .action(async (log: string | undefined, flags: CheckFlags) =>
      done(await run(log, flags, besideOutput(flags.figure, io))),
    )
}

async function run(log: string | undefined, flags: CheckFlags, io: Io): Promise<ExitCode> {
  if ((log === undefined) === (flags.reading === undefined)) {
    io.err('tenterhook check: give either a log or a --reading.\n')
    return EXIT.usage
  }
  const at = flags.at ?? new Date().toISOString()
  if (Number.isNaN(Date.parse(at)) || !/^\d{4}-\d{2}-\d{2}T/.test(at)) {
    io.err('tenterhook check: --at must be a time such as 2026-05-03T08:00:00Z.\n')
    return EXIT.usage
  }
  const when = new Date(at).toISOString()
  const path = flags.checks ?? checksPathOf(flags.rig)
  const [rig, kept] = await Promise.all([openRig(flags.rig), openChecks(path)])
  if (!rig.ok || !kept.ok)
    return tell(
      io,
      [rig, kept].flatMap(side => (side.ok ? [] : side.problems)),
      EXIT.input,
    )
  const known = knownOf(flags, rig.value)
  if (!known.ok) return tell(io, known.problems, EXIT.input)
  const indicated =
    log === undefined ? fromTyped(flags, rig.value, when) : await fromLog(log, flags, rig.value, when)
  if (!indicated.ok) return tell(io, indicated.problems, EXIT.input)
  const { calibration, ...figures } = indicated.value
  const { checks, cut } = kept.value
  const judged = judgeCheck(
    { at: when, appliedN: known.value.appliedN, appliedStandardN: known.value.standardN, ...figures },
    checks,
    rig.value,
    calibration,
  )
  if (cut) io.err(`tenterhook: ${path}: the last line was cut short; it is set aside as a remark.\n`)
  if (!flags.dryRun) {
    const written = await addCheck(path, judged.check, cut)
    if (!written.ok) return tell(io, written.problems, EXIT.output)
  }
  const same = [...comparable(checks, judged.check, calibration), judged.check]
  if (flags.json) io.out(`${JSON.stringify(judged.check)}\n`)
  else {
    const notes = noteLines(
      known.value.warnings.filter(w => w.code !== 'loads-without-doubt'),
      io,
    )
    io.out(checkText(judged, same.length, io) + notes.map(line => `${line}\n`).join(''))
  }
  if (flags.figure !== undefined) {
    const written = await writeFigure(flags.figure, checkFigure(rig.value.name, same, judged.chart))
    if (!written.ok) return tell(io, written.problems, EXIT.output)
  }
  return judged.check.verdict === 'out' ? EXIT.doubtful : EXIT.ok
}

function knownOf(flags: CheckFlags, rig: Rig): Outcome<KnownLoad> {
  const limits = limitsOf(flags.mass, flags.massTolerance)
  const gravity = gravityOfFlags(flags, gravityOf(rig))
  if (!limits.ok) return limits
  if (!gravity.ok) return gravity
  return knownLoad(flags.mass.value, flags.mass.unit, limits.value, gravity.value)
}

type Indicated = Omit<CheckFigures, 'at' | 'appliedN' | 'appliedStandardN'> & {
  readonly calibration: RigCalibration | null
}

async function fromLog(path: string, flags: CheckFlags, rig: Rig, at: string): Promise<Outcome<Indicated>> {
  const tension = tensionOf(rig)
  const log = await openLogFile(path, {
    log: { ...(tension === undefined ? {} : { tension }), ...logOptionsOf(flags) },
  })
  if (!log.ok) return log
  const applied = applyRig(log.value, rig, at.slice(0, 10))
  if (!applied.ok) return applied
  const { recording, calibration } = applied.value
  const hang = findHang(recording)
  if (hang === null)
    return wrong({
      where: log.value.name,
      what: 'the log shows one level only, not the empty hook and the mass.',
      cure: 'Record the empty hook for some seconds, then hang the mass and wait as long.',
    })
  const { rest, loaded } = hang
  return fine({
    indicatedN: loaded.level - rest.level,
    indicatedStandardN: Math.hypot(loaded.standard, rest.standard),
    zeroN: log.value.forceUnit === 'counts' ? rest.level : null,
    greatestN: recording.forceN.reduce((most, v) => Math.max(most, Math.abs(v)), 0),
    calibration,
  })
}

function fromTyped({ reading, zero }: CheckFlags, rig: Rig, at: string): Outcome<Indicated> {
  const latest = rig.calibrations.at(-1)
  const unit = reading?.unit ?? (latest === undefined ? null : parseForceUnit(latest.readingUnit))
  const calibration = unit === null ? null : calibrationFor(rig, unit, at.slice(0, 10))
  if (reading === undefined || unit === null || calibration === null)
    return wrong({ where: '--reading', ...noCalibration(rig, unit, at.slice(0, 10)) })
  if (unit === 'counts' && zero === undefined)
    return wrong({
      where: '--reading',
      what: 'counts say nothing without those of the empty hook.',
      cure: 'Give them too: --zero 50012.',
    })
  const zeroN = zero === undefined ? 0 : forceByCalibration(calibration, zero.value)
  const readingN = forceByCalibration(calibration, reading.value)
  const stepN = forceByCalibration(calibration, reading.value + reading.halfDigit) - readingN
  return fine({
    indicatedN: readingN - zeroN,
    indicatedStandardN: (Math.SQRT2 * Math.abs(stepN)) / Math.sqrt(3),
    zeroN: unit === 'counts' ? zeroN : null,
    greatestN: null,
    calibration,
  })
}
