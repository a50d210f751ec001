import { changesIn } from './changePoint.ts'
import type { TimeLine } from './document.ts'
import { type DayValue, hasMoved, levelShift, type Shift, shiftLess } from './levelShift.ts'
import type { ReadTwice } from './readAgain.ts'
import { type Found, findingText } from './words.ts'

interface Tracks {
  readonly name: string
  readonly control: readonly (DayValue & { readonly engines: readonly string[] })[]
  readonly checks: readonly DayValue[]
  /** Smallest sd that a check's error can honestly have, in per cent. */
  readonly checkFloor: number
  readonly readAgain: TimeLine['readAgain']
  readonly readTwice: readonly ReadTwice[]
}

/** Checks on each side of a change that say whether the rig moved with it. */
const LEAST_CHECKS = 2

/** What each change on the line says, in the order of time. */
export function findingsOf(tracks: Tracks): TimeLine['findings'] {
  const ofControl = controlFindings(tracks)
  const ofChecks = checkFindings(tracks).filter(
    one => !ofControl.some(({ finding, window }) => isRig(finding) && within(one.from, window)),
  )
  return [...ofControl.map(({ finding }) => finding), ...ofChecks].sort((a, b) => (a.from < b.from ? -1 : 1))
}

const isRig = ({ code }: TimeLine['findings'][number]): boolean =>
  code === 'rig-changed' || code === 'both-changed'

type Window = readonly [string, string]
const within = (day: string, [from, to]: Window): boolean => day >= from && day <= to

function controlFindings(tracks: Tracks) {
  const { control, checks, checkFloor, readAgain, name } = tracks
  const values = control.map(d => d.pct)
  const changes = changesIn(values)
  return changes.flatMap(({ at }, i) => {
    const start = changes[i - 1]?.at ?? 0
    const end = changes[i + 1]?.at ?? control.length
    const shift = levelShift(values.slice(start, at), values.slice(at, end), 0)
    if (shift === null) return []
    // Checks between the last day of the old level and the first of the new may belong to either.
    const window: Window = [
      start === 0 ? '' : control[start]!.day,
      end < control.length ? control[end]!.day : '~',
    ]
    const before = checks.filter(c => c.day >= window[0] && c.day <= control[at - 1]!.day)
    const after = checks.filter(c => c.day >= control[at]!.day && c.day < window[1])
    const enough = before.length >= LEAST_CHECKS && after.length >= LEAST_CHECKS
    const ofChecks = enough
      ? levelShift(
          before.map(c => c.pct),
          after.map(c => c.pct),
          checkFloor,
        )
      : null
    const reading = readingShift(tracks, control.slice(start, at), control.slice(at, end))
    const found: Found<Shift> = { name, from: control[at]!.day, control: shift, checks: ofChecks, reading }
    const code = codeOf(found)
    const finding = {
      code,
      from: found.from,
      control: told(shift),
      checks: ofChecks && told(ofChecks),
      text: findingText(code, found, readAgain),
    }
    return [{ finding, window }]
  })
}

/** Which of the three moved the control. Each step is judged at 5 in 100. */
function codeOf({ control, checks, reading }: Found<Shift>): TimeLine['findings'][number]['code'] {
  const rest = reading === null ? control : shiftLess(control, reading)
  if (reading !== null && reading.by !== 0 && !hasMoved(rest)) return 'reading-changed'
  if (checks === null) return 'not-told'
  const isSame = !hasMoved(shiftLess(rest, checks))
  if (hasMoved(checks)) return isSame ? 'rig-changed' : 'both-changed'
  return isSame ? 'not-told' : 'specimens-changed'
}

/**
 * By how much the engine's change alone moves the figures from one side to the other; `null` where both sides were read by the same engine, or no
 * recording was read by both.
 */
function readingShift(
  { readTwice }: Tracks,
  before: Tracks['control'],
  after: Tracks['control'],
): Shift | null {
  const [old, now] = [before, after].map(days => new Set(days.flatMap(d => d.engines))) as [
    Set<string>,
    Set<string>,
  ]
  const own = readTwice.filter(({ from, to }) => old.has(from) && now.has(to) && !now.has(from))
  if (own.length === 0) return null
  return levelShift(
    own.map(() => 0),
    own.map(({ pct }) => pct),
    0,
  )
}

/** A rig that moved without the control, or before it could show. */
function checkFindings({ control, checks, checkFloor, name, readAgain }: Tracks): TimeLine['findings'] {
  const values = checks.map(d => d.pct)
  const changes = changesIn(values, checkFloor)
  return changes.flatMap(({ at }, i) => {
    const start = changes[i - 1]?.at ?? 0
    const end = changes[i + 1]?.at ?? checks.length
    const shift = levelShift(values.slice(start, at), values.slice(at, end), checkFloor)
    if (shift === null) return []
    const from = checks[at]!.day
    const until = end < checks.length ? checks[end]!.day : '~'
    const own = levelShift(
      control.filter(d => d.day >= (checks[start]?.day ?? '') && d.day < from).map(d => d.pct),
      control.filter(d => d.day >= from && d.day < until).map(d => d.pct),
      0,
    )
    const found: Found = { name, from, control: own, checks: shift, reading: null }
    return [
      {
        code: 'rig-changed' as const,
        from,
        control: own && told(own),
        checks: told(shift),
        text: findingText('rig-changed', found, readAgain),
      },
    ]
  })
}

const told = ({ by, ci95 }: Shift) => ({ byPct: by, ci95Pct: ci95 })
