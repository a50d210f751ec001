import { rigStiffness } from '../../core/calibration/stiffness.ts'
import { travelOf } from '../../core/calibration/travel.ts'
import { ownScaleOf } from '../../core/units/force.ts'
import { decimalsFor, plainNumber, threeDigits } from '../../core/units/showForce.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import type { LogFlags } from '../logOptions.ts'
import { today } from '../quantity.ts'
import { changeRig } from '../rigFile.ts'
import { tell } from '../tell.ts'
import { openRigLog } from './rigLog.ts'

interface StiffnessFlags extends LogFlags {
  readonly rig?: string
  readonly travel?: string
  readonly mmPerTurn?: number
  readonly mmPerSecond?: number
  readonly barStiffness?: number
  readonly json?: true
}

/** Stiffness of the rig from a log, told and, where a rig is named, kept. */
export async function stiffnessOfRig(path: string, flags: StiffnessFlags, io: Io): Promise<ExitCode> {
  const log = await openRigLog(path, flags)
  if (!log.ok) return tell(io, log.problems, EXIT.input)
  const { recording, rig } = log.value
  if (ownScaleOf(recording.forceUnit) !== null)
    return tell(
      io,
      [
        {
          where: recording.name,
          what: `the log is in ${recording.forceUnit ?? 'a unit that it does not tell'}.`,
          cure: 'Name a calibrated rig with --rig.',
        },
      ],
      EXIT.input,
    )
  const travel = travelOf(recording, {
    ...flags,
    mmPerTurn: flags.mmPerTurn ?? rig?.drive.mmPerTurn,
    mmPerSecond: flags.mmPerSecond ?? rig?.drive.mmPerSecond,
  })
  if (!travel.ok) return tell(io, travel.problems, EXIT.input)
  const found = rigStiffness(
    recording.forceN,
    travel.value,
    recording.name,
    flags.barStiffness === undefined ? {} : { barNPerMm: flags.barStiffness },
  )
  if (!found.ok) return tell(io, found.problems, EXIT.input)
  const { nPerMm, standardNPerMm, lowerNPerMm, upperNPerMm, fromN, toN, samples } = found.value
  if (flags.rig !== undefined) {
    const saved = await changeRig(flags.rig, given => ({
      ...given,
      stiffness: { nPerMm, standardNPerMm, date: today() },
    }))
    if (!saved.ok) return tell(io, saved.problems, EXIT.output)
  }
  if (flags.json) io.out(`${JSON.stringify(found.value)}\n`)
  else {
    const decimals = decimalsFor(1.96 * standardNPerMm)
    io.out(
      [
        `The rig gives 1 mm for each ${plainNumber(nPerMm, decimals)} ± ${plainNumber(1.96 * standardNPerMm, decimals)} N`,
        `  from ${samples} readings between ${threeDigits(fromN)} and ${threeDigits(toN)} N`,
        `  lower half ${threeDigits(lowerNPerMm)} N/mm, upper half ${threeDigits(upperNPerMm)} N/mm`,
        ...(flags.barStiffness === undefined
          ? ['  the bar itself was taken as rigid; --bar-stiffness takes its own give off']
          : []),
        ...(flags.rig === undefined ? [] : [`  kept in ${flags.rig}`]),
        '',
      ].join('\n'),
    )
  }
  return EXIT.ok
}
