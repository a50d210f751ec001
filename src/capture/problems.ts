import { faultText, type Problem } from '../core/problem.ts'
import { fromNewton, type LogForceUnit } from '../core/units/force.ts'
import { threeDigits } from '../core/units/showForce.ts'

/** What a session tells the operator when something is wrong, or when a command does not fit. */

export const deviceReset = (where: string): Problem => ({
  where,
  what: 'the device started anew; its zero and its clock may have changed.',
  cure: 'The recording goes on in a new part. Check the cable and the supply; take a new zero at rest.',
})

export const overCapacity = (where: string, share: number): Problem => ({
  where,
  what: `the force is at ${threeDigits(100 * share)} % of the cell’s capacity.`,
  cure: 'Stop pulling: the cell may be damaged. Check its zero and calibration afterwards.',
})

export const nearCapacity = (where: string, share: number): Problem => ({
  where,
  what: `the force is at ${threeDigits(100 * share)} % of the cell’s capacity.`,
  cure: 'Back off, or use a larger cell.',
})

export const silent = (where: string): Problem => ({
  where,
  what: 'no line has come for some seconds.',
  cure: 'Check that the device is on and sending, and the cable. Capture waits.',
})

export const wrongSpeed = (where: string): Problem => ({
  where,
  what: 'this does not look like numbers: wrong speed?',
  cure: 'Open it again at another speed (baud): 115200, 57600, 38400, 19200 and 9600 are common.',
})

export const runsAlready = (where: string): Problem => ({
  where,
  what: 'a recording is running.',
  cure: 'Finish it, or give it up, before the next.',
})

export const nothingRuns = (where: string): Problem => ({
  where,
  what: 'nothing is being recorded.',
  cure: 'Arm or start a recording first.',
})

export const nothingArmed = (where: string): Problem => ({
  where,
  what: 'it is not armed.',
  cure: 'Arm a recording first.',
})

export const noSamplesYet = (where: string): Problem => ({
  where,
  what: 'there are no samples of the last half second to take a zero from.',
  cure: 'Wait until forces come.',
})

export const forceMoves = (where: string, spreadN: number, unit: LogForceUnit): Problem => ({
  where,
  what: `the force does not stand still: it moved over ${threeDigits(unit === 'counts' ? spreadN : fromNewton(spreadN, unit))} ${unit} within the last half second.`,
  cure: 'Take the load off, wait until nothing swings, and zero again; or take it all the same.',
})

export const noTurnTapped = (where: string): Problem => ({
  where,
  what: 'no turn was tapped that could be taken back.',
  cure: 'Tap a turn first.',
})

export const emptyNote = (where: string): Problem => ({
  where,
  what: 'the note is empty.',
  cure: 'Write what is to be remembered.',
})

export const notMade = (where: string, error: unknown): Problem => ({
  where,
  what: `the recording could not be made of its journal (${faultText(error)}).`,
  cure: 'The journal stays where it is and is recovered at the next start.',
})

/** Code of the problems that say that a journal holds no recording. */
export const NOTHING_IN_JOURNAL = 'nothing-in-journal'

export const noSample = (where: string): Problem => ({
  code: NOTHING_IN_JOURNAL,
  where,
  what: 'no sample came while it was recorded.',
  cure: 'Look at the live force before recording: if it stands still, check cable, port, baud rate and device.',
})

export const noJournal = (path: string): Problem => ({
  where: path,
  what: 'no header of a journal could be read: it was cut off before it was first written, or by another version.',
  cure: 'Nothing was recorded in it that could be read. Among the journals of a store it is kept, as .unreadable.',
})
