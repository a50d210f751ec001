import { counted } from '../../counted.ts'
import { decimalsFor, plainNumber } from '../../units/showForce.ts'
import { list } from '../compare/words.ts'
import type { TimeLine } from './document.ts'
import { hasMoved, type Shift } from './levelShift.ts'

/** A change of the control or of the checks, with what the other tracks did across it. */
export interface Found<Control extends Shift | null = Shift | null> {
  readonly name: string
  readonly from: string
  readonly control: Control
  readonly checks: Shift | null
  readonly reading: Shift | null
}

type Code = TimeLine['findings'][number]['code']

/** What is told is what was seen beyond scatter: that another track did not move at all, no scatter shows. */
const CURES = {
  'specimens-changed':
    'the specimens changed (the glue, the material, how they were made), by more than the checks leave to the rig. Compare only what was made on one side of it',
  'rig-changed':
    'the rig changed, and no change of the specimens is seen beside it. Look at grips, hook and cell, calibrate anew, and compare only what was pulled on one side of it',
  'both-changed': 'the rig changed, and the specimens with it or by chance at the same time',
  'reading-changed':
    'the reading changed, and no other change is seen beside it. Read the older recordings anew',
  'not-told': 'what changed cannot be told',
} as const satisfies Record<Code, string>

const RIG_ALONE =
  'the rig changed, and whether the specimens did cannot be told. Look at grips, hook and cell, calibrate anew, and compare only what was pulled on one side of it'

/** One sentence or two: what moved, what the others did, and what that says. */
export function findingText(code: Code, found: Found, steps: TimeLine['readAgain']): string {
  const { name, from, control, checks, reading } = found
  const moved =
    control === null
      ? `From ${from} on the checks lie ${moreText(checks!)}; ${name} was not pulled on both sides of it`
      : code === 'rig-changed' && checks !== null && !hasMoved(control)
        ? `From ${from} on the checks lie ${moreText(checks)}, while ${name} moved by no more than scatter (${spanOf(control)})`
        : `From ${from} on ${name} lies ${moreText(control)}${checksText(checks)}${readingText(reading, steps)}`
  const cure = control === null ? RIG_ALONE : CURES[code]
  return `${moved}: ${cure}${why(code, checks)}.`
}

const checksText = (checks: Shift | null): string =>
  checks === null
    ? ''
    : `, the daily checks ${hasMoved(checks) ? moreText(checks) : `moved by no more than scatter (${spanOf(checks)})`}`

const readingText = (reading: Shift | null, steps: TimeLine['readAgain']): string =>
  reading === null
    ? ''
    : `, and ${counted(
        steps.reduce((n, s) => n + s.n, 0),
        'recording',
      )} read again came out ${reading.by === 0 ? 'the same' : moreText(reading)}`

const why = (code: Code, checks: Shift | null): string =>
  code !== 'not-told'
    ? ''
    : checks === null
      ? ': there are fewer than two daily checks on one side of it. Check the rig on every day of work'
      : ': the checks leave room for the rig having moved as far. Check the rig on every day of work'

/** `6.2 % higher (3.1 to 9.3 %)`. */
function moreText({ by, ci95 }: Shift): string {
  const [low, high] = by >= 0 ? ci95 : ([-ci95[1], -ci95[0]] as const)
  const digits = decimals([low, high])
  return `${plainNumber(Math.abs(by), digits)} % ${by >= 0 ? 'higher' : 'lower'} (95 % interval ${plainNumber(low, digits)} to ${plainNumber(high, digits)} %)`
}

const spanOf = ({ ci95 }: Shift): string =>
  `95 % interval ${plainNumber(ci95[0], decimals(ci95))} to ${plainNumber(ci95[1], decimals(ci95))} %`

const decimals = ([low, high]: readonly [number, number]): number =>
  Math.min(2, high > low ? decimalsFor((high - low) / 2) : 2)

/** What the line says as a whole, no more than it can. */
export function verdictOfLine(line: Omit<TimeLine, 'verdict'>, least: number): string {
  const { control, checks, findings, readAgain } = line
  const seen = list([
    ...(control.days.length > 0 ? [`${counted(control.days.length, 'day')} of ${control.name}`] : []),
    ...(checks.days.length > 0 ? [`${counted(checks.days.length, 'day')} of checks`] : []),
  ])
  const reread = readAgain.filter(step => step.moved > 0)
  const told = [
    ...findings.map(({ text }) => text),
    ...(findings.some(({ code }) => code === 'reading-changed')
      ? []
      : reread.map(
          ({ from, to, n, moved, greatestPct }) =>
            `Read again by ${to} instead of ${from}, ${moved} of ${counted(n, 'recording')} came out another, by up to ${plainNumber(Math.abs(greatestPct), 1)} %: read all anew before comparing across it.`,
        )),
  ]
  if (told.length > 0) return told.join(' ')
  if (Math.max(control.days.length, checks.days.length) < least)
    return `${seen === '' ? 'Nothing is on the line yet' : `${seen} tell nothing yet`}: it takes ${least} days of the control variant, and a check of the rig on each, to tell a change.`
  return `No change is told over ${seen}${control.days.length < least ? `; of the control variant it takes ${least} days` : ''}${checks.days.length < least ? '; without daily checks a change of the rig would pass for one of the specimens' : ''}. A small or late one can be there all the same.`
}
