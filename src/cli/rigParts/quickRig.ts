import { knownLoad } from '../../core/calibration/knownLoad.ts'
import { scaleByOneMass, scaleByTypedDoubt } from '../../core/calibration/quickScale.ts'
import type { QuickScale } from '../../core/calibration/rig.ts'
import { gravityOf } from '../../core/calibration/rigFacts.ts'
import { type Outcome, wrong } from '../../core/problem.ts'
import { parseForceUnit } from '../../core/units/force.ts'
import type { Gravity } from '../../core/units/gravity.ts'
import { noteLines, quickScaleText } from '../calibrationText.ts'
import { readBytes } from '../files.ts'
import { type GravityFlags, gravityOfFlags } from '../gravityFlags.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { type Load, limitsOf, type Tolerance, type TypedReading, today } from '../quantity.ts'
import { openRig, saveCalibration } from '../rigFile.ts'
import { tell } from '../tell.ts'

interface QuickFlags extends GravityFlags {
  readonly rig: string
  readonly mass?: Load
  readonly massTolerance?: Tolerance
  readonly reading?: TypedReading
  readonly zero?: TypedReading
  readonly readingUnit?: string
  readonly doubt?: number
  readonly date?: string
  readonly json?: true
}

/** Adds a quick scale to a rig file. */
export async function quickRig(flags: QuickFlags, io: Io): Promise<ExitCode> {
  const there = await readBytes(flags.rig)
  const rig = there.ok ? await openRig(flags.rig) : null
  if (rig !== null && !rig.ok) return tell(io, rig.problems, EXIT.input)
  const gravity = gravityOfFlags(flags, rig === null ? null : gravityOf(rig.value))
  if (!gravity.ok) return tell(io, gravity.problems, EXIT.input)
  const scale = quickScaleOf(flags, gravity.value)
  if (!scale.ok) return tell(io, scale.problems, EXIT.input)
  const saved = await saveCalibration(flags.rig, scale.value)
  if (!saved.ok) return tell(io, saved.problems, EXIT.output)
  if (flags.json) {
    io.out(`${JSON.stringify(scale.value)}\n`)
    return EXIT.ok
  }
  const assumed =
    flags.mass?.unit.kind === 'mass' && gravity.value.from === 'unknown'
      ? [
          {
            code: 'gravity-assumed',
            text: 'Standard gravity was taken; the place may differ by up to 0.27 %, which the doubt covers.',
          },
        ]
      : []
  io.out(
    quickScaleText(scale.value) +
      noteLines(assumed, io)
        .map(line => `${line}\n`)
        .join(''),
  )
  return EXIT.ok
}

function quickScaleOf(flags: QuickFlags, gravity: Gravity): Outcome<QuickScale> {
  const { mass, reading, zero, doubt, date = today() } = flags
  const unit = flags.readingUnit === undefined ? (reading?.unit ?? null) : parseForceUnit(flags.readingUnit)
  if (flags.readingUnit !== undefined && unit === null)
    return wrong({
      where: '--reading-unit',
      what: `“${flags.readingUnit.slice(0, 20)}” is not a unit known here.`,
      cure: 'Use counts, N, kgf, gf, lbf or another unit of force.',
    })
  if (mass === undefined) {
    if (doubt === undefined)
      return wrong({
        where: 'rig quick',
        what: 'neither a mass nor a doubt was given.',
        cure: 'Give --mass with --reading, or --doubt 2% with --reading-unit kgf.',
      })
    return scaleByTypedDoubt(unit ?? 'counts', doubt, date)
  }
  if (reading === undefined)
    return wrong({
      where: 'rig quick',
      what: 'the reading with the mass is missing.',
      cure: 'Give --reading, and --zero for that of the empty hook.',
    })
  const limits = limitsOf(mass, flags.massTolerance)
  if (!limits.ok) return limits
  const known = knownLoad(mass.value, mass.unit, limits.value, gravity)
  if (!known.ok) return known
  return scaleByOneMass({
    appliedN: known.value.appliedN,
    appliedStandardN: known.value.standardN,
    reading: reading.value,
    zeroReading: zero?.value ?? 0,
    readingStandard: Math.hypot(reading.halfDigit, zero?.halfDigit ?? 0) / Math.sqrt(3),
    readingUnit: unit ?? 'counts',
    date,
    ...(doubt === undefined ? {} : { unknownPct: doubt }),
  })
}
