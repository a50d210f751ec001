import { creepOf, settlingOf } from '../../core/calibration/settling.ts'
import { fromNewton, type LogForceUnit, unitOfLog } from '../../core/units/force.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import type { LogFlags } from '../logOptions.ts'
import { tell } from '../tell.ts'
import { openRigLog } from './rigLog.ts'

interface SettleFlags extends LogFlags {
  readonly rig?: string
  readonly within?: number
  readonly json?: true
}

/** Creep where a mass hangs, warm-up where nothing does. */
export async function settleRig(path: string, flags: SettleFlags, io: Io): Promise<ExitCode> {
  const log = await openRigLog(path, flags)
  if (!log.ok) return tell(io, log.problems, EXIT.input)
  const { recording } = log.value
  const creep = creepOf(recording)
  const settling = creep === null ? settlingOf(recording, flags.within) : null
  if (creep === null && settling === null)
    return tell(
      io,
      [
        {
          where: recording.name,
          what: 'the log is too short to settle anything.',
          cure: 'Leave the rig alone for half an hour, empty or with a mass hanging.',
        },
      ],
      EXIT.input,
    )
  if (flags.json) {
    io.out(`${JSON.stringify({ creep, settling })}\n`)
    return EXIT.ok
  }
  if (creep !== null) {
    io.out(
      [
        `Under a steady load the reading moved by ${threeDigits(creep.creepPct)} % of the load in ${minutes(creep.heldS)} (creep)`,
        `Afterwards the zero ${creep.zeroReturnPct === null ? 'was not recorded: take the mass off before the log ends' : `was off by ${threeDigits(creep.zeroReturnPct)} % of the load`} (zero return)`,
        '',
      ].join('\n'),
    )
  }
  if (settling !== null) {
    const force = forceText(recording.forceUnit)
    io.out(
      [
        settling.settledAtS === null
          ? `Not settled: at the end the zero still moves by ${force(settling.ratePerMinute)} a minute. Wait longer before you calibrate or pull.`
          : `Settled after ${minutes(settling.settledAtS)}: from then on the zero stays within ${force(settling.within)}. Switch the rig on that long before you calibrate or pull.`,
        `Over the whole log the zero moved by ${force(settling.change)}.`,
        '',
      ].join('\n'),
    )
  }
  return EXIT.ok
}

const minutes = (s: number): string => (s < 120 ? `${Math.round(s)} s` : `${Math.round(s / 60)} min`)

const forceText = (logUnit: LogForceUnit | null) => (value: number) => {
  const unit = unitOfLog(logUnit)
  return unit === 'counts' ? `${Math.round(value)} counts` : `${threeDigits(fromNewton(value, unit))} ${unit}`
}
