import type { Rig } from '../../core/calibration/rig.ts'
import { gravityOf } from '../../core/calibration/rigFacts.ts'
import { calibrationName } from '../../core/calibration/rigScale.ts'
import { printable } from '../../core/printable.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { checksPathOf, openChecks, openRig } from '../rigFile.ts'
import { tell } from '../tell.ts'

/** What a rig file says, and what it leaves open. */
export async function showRig(file: string, flags: { readonly json?: true }, io: Io): Promise<ExitCode> {
  const rig = await openRig(file)
  if (!rig.ok) return tell(io, rig.problems, EXIT.input)
  if (flags.json) {
    io.out(`${JSON.stringify(rig.value)}\n`)
    return EXIT.ok
  }
  const checks = await openChecks(checksPathOf(file))
  if (!checks.ok) return tell(io, checks.problems, EXIT.input)
  io.out(`${linesOf(rig.value, checks.value.checks.length).join('\n')}\n`)
  return EXIT.ok
}

function linesOf(rig: Rig, checks: number): string[] {
  const { cell, converter, drive, stiffness, strokeMm, calibrations } = rig
  const line = (name: string, value: string | null) => `  ${name.padEnd(14)}${value ?? 'not told'}`
  const unit = (value: number | undefined, of: string) =>
    value === undefined ? null : `${threeDigits(value)} ${of}`
  const driven = [unit(drive.mmPerTurn, 'mm a turn'), unit(drive.mmPerSecond, 'mm/s')].filter(v => v !== null)
  return [
    printable(rig.name),
    line('cell', unit(cell.capacityN, 'N')),
    line('converter', unit(converter.rateHz, 'readings a second')),
    line('drive', driven.length > 0 ? driven.join(', ') : null),
    line('stroke', unit(strokeMm, 'mm')),
    line(
      'stiffness',
      stiffness === undefined
        ? null
        : `${threeDigits(stiffness.nPerMm)} N/mm${stiffness.standardNPerMm === null ? '' : ` (doubt as a standard uncertainty ${threeDigits(stiffness.standardNPerMm)})`}`,
    ),
    line('gravity', gravityOf(rig).text),
    line('checks', String(checks)),
    ...(calibrations.length === 0
      ? [line('calibrations', 'none: every result will say that the scale is not checked')]
      : calibrations.map((calibration, i) =>
          line(
            i === 0 ? 'calibrations' : '',
            `${calibrationName(calibration)}, ${calibration.readingUnit}${calibration.document === 'tenterhook.calibration' ? `, up to ${threeDigits(calibration.calibratedRange.toN)} N` : `, ±${threeDigits(calibration.doubtPct)} %`}`,
          ),
        )),
  ]
}
