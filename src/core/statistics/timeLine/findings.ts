import { mean } from '../group/moments.ts'
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
    one => !ofControl.some(({ finding, near }) => isRig(finding) && within(one.from, near)),
  )
  return [...ofControl.map(({ finding }) => finding), ...ofChecks].sort((a, b) => (a.from < b.from ? -1 : 1))
}

const isRig = ({ code }: TimeLine['findings'][number]): boolean =>
  code === 'rig-changed' || code === 'both-changed'

type Window = readonly [string, string]
const within = (day: string, [from, to]: Window): boolean => day >= from && day <= to

/** Fewest days of a track to either side of a change within which a change of the other track is taken for the same one. */
const NEAR_DAYS = 2
/** How far the place of a change is off: so many times the square of scatter over change, in days (simulated: docs/statistics.md). */
const OFF_DAYS = 12

/** The days about the change at one place of a track, the wider the less it stands out from the scatter. */
function nearOf(
  days: readonly DayValue[],
  [start, at, end]: readonly [number, number, number],
  floor: number,
): Window {
  const pct = days.map(d => d.pct)
  const shift = levelShift(pct.slice(start, at), pct.slice(at, end), floor)
  const sd = shift === null ? 0 : shift.standardError / Math.sqrt(1 / (at - start) + 1 / (end - at))
  const off = shift === null ? 0 : Math.min(days.length, Math.ceil(OFF_DAYS * (sd / shift.by) ** 2))
  const near = Math.max(NEAR_DAYS, off)
  return [days[Math.max(0, at - near)]!.day, days[Math.min(days.length - 1, at + near)]!.day]
}

/** A window cut where the other track changed at another time than this change. */
function cutBy(changed: readonly string[], near: Window, [from, to]: Window): Window {
  const before = changed.filter(day => day < near[0] && day > from)
  const after = changed.filter(day => day > near[1] && day < to)
  return [before.at(-1) ?? from, after[0] ?? to]
}

const changeDays = (days: readonly DayValue[], floor: number): string[] =>
  changesIn(
    days.map(d => d.pct),
    floor,
  ).map(({ at }) => days[at]!.day)

/** The days on which the control changes where what the checks say the rig moved is taken off it. */
function changeDaysWithoutRig({ control, checks, checkFloor }: Tracks): string[] {
  const pct = checks.map(d => d.pct)
  const starts = [0, ...changesIn(pct, checkFloor).map(({ at }) => at)]
  const levels = starts.map((at, i) => ({
    day: checks[at]?.day ?? '',
    pct: mean(pct.slice(at, starts[i + 1])),
  }))
  const rigOn = (day: string): number => (levels.findLast(level => level.day <= day) ?? levels[0]!).pct
  return changeDays(
    control.map(d => ({ day: d.day, pct: d.pct - rigOn(d.day) })),
    0,
  )
}

function controlFindings(tracks: Tracks) {
  const { control, checks, checkFloor, readAgain, name } = tracks
  const changes = changesIn(control.map(d => d.pct))
  const ofRig = changeDays(checks, checkFloor)
  const withoutRig = ofRig.length > 0 ? changeDaysWithoutRig(tracks) : null
  return changes.flatMap(({ at }, i) => {
    const start = changes[i - 1]?.at ?? 0
    const end = changes[i + 1]?.at ?? control.length
    const near = nearOf(control, [start, at, end], 0)
    const window = cutBy(ofRig, near, [
      start === 0 ? '' : control[start]!.day,
      end < control.length ? control[end]!.day : '~',
    ])
    const earlier = control.slice(start, at).filter(d => d.day >= window[0])
    const later = control.slice(at, end).filter(d => d.day < window[1])
    const shift = levelShift(
      earlier.map(d => d.pct),
      later.map(d => d.pct),
      0,
    )
    if (shift === null) return []
    // Checks between the last day of the old level and the first of the new may belong to either.
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
    const reading = readingShift(tracks, earlier, later)
    const found: Found<Shift> = { name, from: control[at]!.day, control: shift, checks: ofChecks, reading }
    const code = codeOf(found)
    // What a rig moved by less than the control scatters is easily taken for a change some days off: told at the checks' own day.
    if (code === 'specimens-changed' && withoutRig?.some(day => within(day, near)) === false) return []
    const finding = {
      code,
      from: found.from,
      control: told(shift),
      checks: ofChecks && told(ofChecks),
      text: findingText(code, found, readAgain),
    }
    return [{ finding, near }]
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
  const ofControl = changeDays(control, 0)
  return changes.flatMap(({ at }, i) => {
    const start = changes[i - 1]?.at ?? 0
    const end = changes[i + 1]?.at ?? checks.length
    const shift = levelShift(values.slice(start, at), values.slice(at, end), checkFloor)
    if (shift === null) return []
    const from = checks[at]!.day
    const window = cutBy(ofControl, nearOf(checks, [start, at, end], checkFloor), [
      start === 0 ? '' : checks[start]!.day,
      end < checks.length ? checks[end]!.day : '~',
    ])
    const own = levelShift(
      control.filter(d => d.day >= window[0] && d.day < from).map(d => d.pct),
      control.filter(d => d.day >= from && d.day < window[1]).map(d => d.pct),
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
