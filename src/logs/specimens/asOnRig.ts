import { calibrationFor, risesWithReading } from '../../core/calibration/applyRig.ts'
import type { Rig, RigCalibration } from '../../core/calibration/rig.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import { parseForceUnit, toNewton } from '../../core/units/force.ts'
import { clearDirection } from '../meaning/tension.ts'

/**
 * A recording with the sign that its rig gives it, ready for the rig's calibration. A calibration that was made with a
 * known load is a line from the numbers as the log has them, so a log that was turned when it was opened is turned back
 * for it. A rig that tells its sign by a word settles it so. A rig that tells nothing leaves what the log showed.
 * What a person said of this log counts for more than the rig's word. `chosen`: the calibration of the rig that a person
 * chose; `null` for that of the day. Problem: a log that pulls against its rig.
 */
export function asOnRig(
  recording: Recording,
  rig: Rig,
  day: string | undefined,
  chosen: RigCalibration | null,
): Outcome<Recording> {
  return signedAsOnRig(inUnitOfRig(recording, rig, chosen), rig, day, chosen)
}

/**
 * A log that does not tell its unit is taken to be in that of the rig's calibrations, where they all have one: they were
 * made from the same display or converter. It is said, as everything that is taken for granted.
 */
function inUnitOfRig(recording: Recording, rig: Rig, chosen: RigCalibration | null): Recording {
  if (recording.forceUnit !== null) return recording
  const [unit, ...others] = new Set(
    (chosen === null ? rig.calibrations : [chosen]).map(one => parseForceUnit(one.readingUnit)),
  )
  if (unit === undefined || unit === null || others.length > 0) return recording
  const text = `The log does not say its unit; its numbers are taken to be in ${unit}, as the calibration of ${rig.name} has them.`
  return {
    ...recording,
    forceN:
      unit === 'counts' || unit === 'N'
        ? recording.forceN
        : recording.forceN.map(value => toNewton(value, unit)),
    forceUnit: unit,
    assumptions: [
      ...recording.assumptions.filter(({ code }) => code !== 'unit-not-told'),
      { code: 'unit-assumed', text },
    ],
  }
}

function signedAsOnRig(
  recording: Recording,
  rig: Rig,
  day: string | undefined,
  chosen: RigCalibration | null,
): Outcome<Recording> {
  const { tension } = recording
  if (tension === undefined) return fine(recording)
  const calibration = calibrationFor(rig, recording.forceUnit, day, chosen)
  const rises = calibration === null ? null : risesWithReading(calibration)
  const asSent = tension.turned ? turned(recording) : recording
  if (rises !== null) {
    // A person said that the log counts tension negative, and the calibration was made with the other sign.
    if (tension.told) return fine(settled(tension.turned && rises ? recording : asSent))
    return isAgainst(asSent, rises)
      ? against(recording, rises, `the calibration of ${rig.name}`)
      : fine(settled(asSent))
  }
  if (rig.sign === undefined || tension.told) return fine(recording)
  const isPositive = rig.sign === 1
  if (isAgainst(asSent, isPositive)) return against(recording, isPositive, rig.name)
  return fine(settled(isPositive ? asSent : turned(asSent)))
}

const isAgainst = ({ forceN }: Recording, pullRaises: boolean): boolean =>
  clearDirection(forceN) === (pullRaises ? 'down' : 'up')

const against = ({ name }: Recording, pullRaises: boolean, by: string): Outcome<Recording> =>
  wrong({
    where: name,
    what: `the force goes ${pullRaises ? 'down' : 'up'} in the pull, but by ${by} a pull ${pullRaises ? 'raises' : 'lowers'} the reading.`,
    cure: 'Say of this log how it counts tension, or mend the rig: its sign, its calibration, or the two leads of the cell that were swapped.',
    code: 'against-sign',
  })

/** `+ 0` keeps a zero from becoming a negative one. */
const turned = (recording: Recording): Recording => ({
  ...recording,
  forceN: recording.forceN.map(value => -value + 0),
})

/** The rig has said it: nothing of the sign is taken for granted any more. */
const settled = (recording: Recording): Recording => ({
  ...recording,
  assumptions: recording.assumptions.filter(({ code }) => code !== 'tension-assumed'),
})
