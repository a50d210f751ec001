import { basename } from 'node:path'
import { Command, InvalidArgumentError, Option } from 'commander'
import { applyLoads } from '../../core/calibration/applied.ts'
import { calibrate } from '../../core/calibration/calibrate.ts'
import type { Calibration } from '../../core/calibration/document.ts'
import { readPointRows } from '../../core/calibration/pointsTable.ts'
import { type Mass, massOf, REFERENCE_GUIDE } from '../../core/calibration/references.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { gravityOf } from '../../core/calibration/rigFacts.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { readTable } from '../../logs/index.ts'
import { calibrationFigure } from '../../publish/figure/calibrationFigure.ts'
import { calibrationText } from '../calibrationText.ts'
import { readBytes } from '../files.ts'
import { addGravityOptions, type GravityFlags, gravityOfFlags } from '../gravityFlags.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { positive, wholeNumber } from '../logOptions.ts'
import { day, forceN, percent, today } from '../quantity.ts'
import { openRig, saveCalibration } from '../rigFile.ts'
import { tell } from '../tell.ts'
import { figureFile, writeFigure } from '../writeFigure.ts'

interface CalibrateFlags extends GravityFlags {
  readonly degree?: '1' | '2' | '3'
  readonly throughZero?: true
  readonly risingOnly?: true
  readonly leaveOut?: readonly number[]
  readonly loadUnit?: string
  readonly readingUnit?: string
  readonly resolution?: number
  readonly usedTo?: number
  readonly tolerance?: number
  readonly references?: string
  readonly buoyancy: boolean
  readonly airDensity?: number
  readonly rig?: string
  readonly save?: string
  readonly date?: string
  readonly monteCarlo?: number | true
  readonly json?: true
  readonly figure?: string
  readonly listReferences?: true
}

const EXAMPLES = `
The points are a table: a column of loads (mass, force or a stack of named references), one of readings, and if you have
them direction (up, down), cycle, tolerance and density.

Examples:
  tenterhook calibrate points.csv --latitude 52.1 --height 30
  tenterhook calibrate points.csv --gravity 9.8124 --tolerance 0.5 --save rig.json
  tenterhook calibrate stacks.csv --references home.json --figure residuals.svg
  tenterhook calibrate --list-references           what can serve as a known load at home

Exit codes: 0 calibrated; 2 the command line is wrong; 3 the points cannot be used; 4 a file could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description(
      'Known loads against readings: the fit, its errors, the class that it reaches, and its doubt.',
    )
    .argument('[points]', 'table of loads and readings')
    .option('--json', 'the calibration document')
    .option(
      '--figure <file>',
      'draw what is left after the fit against the class limits, as .svg or .png',
      figureFile,
    )
    .option('--save <rig>', 'add the calibration to this rig file')
    .option('--list-references', 'list what can serve as a known load at home, with its doubt')
    .optionsGroup('The fit:')
    .addOption(
      new Option('--degree <n>', 'degree of the fit (chosen by rule where not given)').choices([
        '1',
        '2',
        '3',
      ]),
    )
    .option('--through-zero', 'make the fit pass reading 0 at no load')
    .option('--rising-only', 'fit the loads on the way up only')
    .option('--leave-out <lines>', 'lines of the table to leave out, with commas', lineNumbers)
    .option('--resolution <step>', 'smallest step of a reading (found where not given)', positive)
    .option('--used-to <force>', 'greatest force that the rig is used for, as in 200N', forceN)
    .option(
      '--monte-carlo [draws]',
      'check the greatest load’s doubt by drawing at random',
      wholeNumber(1000),
    )
    .optionsGroup('The loads:')
    .option('--load-unit <unit>', 'unit of the loads, over that of the header')
    .option('--reading-unit <unit>', 'unit of the readings, over that of the header')
    .option('--tolerance <percent>', 'limits ± of loads that have none of their own', percent)
    .option('--references <file>', 'file of named references for a column “stack”')
    .option('--no-buoyancy', 'leave air buoyancy uncorrected where a density is given')
    .option('--air-density <kg/m3>', 'density of the air (1.2)', positive)
    .option('--rig <file>', 'rig whose gravity holds where none is given')
    .option('--date <day>', 'day of the calibration (today)', day)
  return addGravityOptions(command)
    .addHelpText('after', EXAMPLES)
    .action(async (points: string | undefined, flags: CalibrateFlags) => done(await run(points, flags, io)))
}

async function run(points: string | undefined, flags: CalibrateFlags, io: Io): Promise<ExitCode> {
  if (flags.listReferences) {
    for (const { what, doubt } of REFERENCE_GUIDE) io.out(`${what}\n  ${doubt}\n`)
    return EXIT.ok
  }
  if (points === undefined) {
    io.err('tenterhook calibrate: name the table of points, or ask for --list-references.\n')
    return EXIT.usage
  }
  const outcome = await calibrationOf(points, flags)
  if (!outcome.ok) return tell(io, outcome.problems, EXIT.input)
  const calibration = outcome.value
  io.out(flags.json ? `${JSON.stringify(calibration)}\n` : calibrationText(calibration, io))
  if (flags.figure !== undefined) {
    const written = await writeFigure(flags.figure, calibrationFigure(calibration))
    if (!written.ok) return tell(io, written.problems, EXIT.output)
  }
  if (flags.save !== undefined) {
    const saved = await saveCalibration(flags.save, { ...calibration, date: calibration.date ?? today() })
    if (!saved.ok) return tell(io, saved.problems, EXIT.output)
    if (!flags.json) io.out(`\nAdded to ${flags.save} as the calibration of ${calibration.date}.\n`)
  }
  return EXIT.ok
}

async function calibrationOf(path: string, flags: CalibrateFlags): Promise<Outcome<Calibration>> {
  const [bytes, rig, references] = await Promise.all([
    readBytes(path),
    rigOf(flags),
    referencesOf(flags.references),
  ])
  const problems = [bytes, rig, references].flatMap(side => (side.ok ? [] : side.problems))
  if (!bytes.ok || !rig.ok || !references.ok) return wrong(...problems)
  const name = basename(path)
  const table = readTable(bytes.value, name)
  if (!table.ok) return table
  const { names, rows } = table.value
  const read = readPointRows(
    { name, header: names.every(cell => cell === '') ? null : names, rows },
    {
      ...(flags.loadUnit === undefined ? {} : { loadUnit: flags.loadUnit }),
      ...(flags.readingUnit === undefined ? {} : { readingUnit: flags.readingUnit }),
    },
  )
  if (!read.ok) return read
  const place = gravityOfFlags(flags, rig.value === null ? null : gravityOf(rig.value))
  if (!place.ok) return place
  const gravity = place.value
  const applied = applyLoads(name, read.value.rows, {
    gravity,
    references: references.value,
    buoyancy: flags.buoyancy,
    ...(flags.airDensity === undefined ? {} : { airDensityKgM3: flags.airDensity }),
    ...(flags.tolerance === undefined ? {} : { toleranceShare: flags.tolerance / 100 }),
  })
  if (!applied.ok) return applied
  return calibrate(
    {
      name,
      points: applied.value.points,
      doubts: applied.value.doubts,
      gravity,
      readingUnit: read.value.readingUnit,
      readingDecimals: Math.max(0, ...read.value.rows.map(row => row.readingDecimals)),
      warnings: [...read.value.warnings, ...applied.value.warnings],
    },
    {
      ...(flags.degree === undefined ? {} : { degree: Number(flags.degree) as 1 | 2 | 3 }),
      ...(flags.resolution === undefined ? {} : { resolution: flags.resolution }),
      ...(flags.usedTo === undefined ? {} : { usedToN: flags.usedTo }),
      ...(flags.monteCarlo === undefined
        ? {}
        : { monteCarloTrials: flags.monteCarlo === true ? 200_000 : flags.monteCarlo }),
      throughZero: flags.throughZero === true,
      risingOnly: flags.risingOnly === true,
      leaveOut: flags.leaveOut ?? [],
      date: flags.date ?? today(),
    },
  )
}

/** The rig named for its gravity, else the one that the calibration is added to, if it is there already. */
async function rigOf(flags: CalibrateFlags): Promise<Outcome<Rig | null>> {
  if (flags.rig !== undefined) return openRig(flags.rig)
  if (flags.save === undefined) return fine(null)
  const there = await readBytes(flags.save)
  return there.ok ? openRig(flags.save) : fine(null)
}

async function referencesOf(path: string | undefined): Promise<Outcome<ReadonlyMap<string, Mass>>> {
  if (path === undefined) return fine(new Map())
  const bytes = await readBytes(path)
  if (!bytes.ok) return bytes
  const { parseReferences } = await import('../../core/calibration/referencesDocument.ts')
  const parsed = parseReferences(new TextDecoder().decode(bytes.value), path)
  if (!parsed.ok) return parsed
  const masses = new Map<string, Mass>()
  const problems: Problem[] = []
  for (const [name, reference] of Object.entries(parsed.value.references)) {
    const mass = massOf(name, reference)
    if (mass.ok) masses.set(name, mass.value)
    else problems.push(...mass.problems)
  }
  return problems.length > 0 ? wrong(...problems) : fine(masses)
}

function lineNumbers(word: string): number[] {
  const lines = word.split(',').map(Number)
  if (lines.some(line => !Number.isSafeInteger(line) || line < 1))
    throw new InvalidArgumentError('It must be line numbers such as 7,9.')
  return lines
}
