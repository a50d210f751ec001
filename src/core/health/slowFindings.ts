import { median } from '../signal/order.ts'
import { greatestAt } from '../signal/scan.ts'
import { threeDigits } from '../units/showForce.ts'
import type { Figures } from './figures.ts'
import { type Detector, greatestOf } from './findings.ts'
import { evidenceIn, type Seen } from './look.ts'
import { creepUnder } from './mass.ts'
import type { Found, HealthOptions, Stretch } from './types.ts'
import { type ZeroCourse, zeroCourse } from './zeroCourse.ts'

/** From the zero before a pull to its peak pass about so many minutes (common practice, no source). */
const TO_PEAK_MIN = 0.5
/** A drift is told from so many standard errors on. */
const CERTAIN = 5
/** Drift a minute that matters, as a share of the noise and of the display step. */
const NOISE_SHARE = 0.5
const STEP_SHARE = 0.25
/** The zero of an ordinary record matters from this share of its greatest force on. */
const PULL_SHARE = 0.02
/** Rests of an ordinary record must come to so much. */
const LEAST_RESTS_S = 4
/** And to so much where all of them lie before the greatest force. */
const LEAST_BEFORE_S = 30
/** The zero stands when it moves less than this share of the noise a minute. */
const STANDS_SHARE = 0.1

interface Course extends ZeroCourse {
  readonly r: Seen
  readonly fromS: number
  readonly toS: number
}

/** How the zero moved, record by record, and how long until it stands. */
export interface Moved {
  readonly drift: Course | null
  readonly waitMin: number | null
  readonly all: readonly Course[]
}

export function movedZero(records: readonly Seen[], figures: Figures, options: HealthOptions): Moved {
  const noiseN = figures.noiseN ?? 0
  const courses = records.flatMap(r => {
    const rests = r.stretches.filter(s => s.load === 'none')
    // Under a hung mass creep would be taken for drift, and after it its return.
    if (r.step === 'mass' || rests.length === 0) return []
    const timeS = join(rests.map(s => r.recording.timeS.subarray(s.from, s.to)))
    const restsS = rests.reduce(
      (sum, s) => sum + r.recording.timeS[s.to - 1]! - r.recording.timeS[s.from]!,
      0,
    )
    if (r.step === 'ordinary' && !isTimed(r, rests, restsS)) return []
    const course = zeroCourse(timeS, join(rests.map(s => r.cleanN.subarray(s.from, s.to))))
    if (course === null) return []
    // What a pull leaves behind dies away too, and is no warm-up.
    const even = r.step === 'ordinary' ? { tauS: null, perMinuteN: course.evenPerMinuteN } : {}
    return [{ r, ...course, ...even, fromS: timeS[0]!, toS: timeS.at(-1)! }]
  })
  const matter = courses.filter(c => {
    const limit = leastDrift(figures, options)
    const overS = c.toS - c.fromS
    const ordinaryN = c.r.step === 'free' ? 0 : PULL_SHARE * (figures.hand?.greatestN ?? 0)
    const movedN = Math.abs(c.perMinuteN * Math.min(overS, c.tauS ?? overS)) / 60
    return (
      Math.abs(c.perMinuteN) > limit &&
      Math.abs(c.perMinuteN) > CERTAIN * c.standardPerMinuteN &&
      movedN > ordinaryN
    )
  })
  const drift = greatestOf(matter, c => Math.abs(c.perMinuteN))
  const stands = options.withinN ?? STANDS_SHARE * noiseN
  const waitMin =
    drift?.tauS == null || !(stands > 0)
      ? null
      : (drift.tauS * Math.max(0, Math.log(Math.abs(drift.perMinuteN) / stands))) / 60
  return { drift, waitMin, all: courses }
}

/**
 * Whether the rests of an ordinary record tell a drift: in known time, long enough, and not of a slow
 * loading's start.
 */
function isTimed({ recording, cleanN }: Seen, rests: readonly Stretch[], restsS: number): boolean {
  if (recording.timeFrom === 'rate') return false
  const top = greatestAt(cleanN, 0, cleanN.length)
  const isAfter = rests.some(s => s.from > top)
  return restsS >= (isAfter ? LEAST_RESTS_S : LEAST_BEFORE_S)
}

const join = (parts: readonly Float64Array[]): Float64Array => {
  const all = new Float64Array(parts.reduce((n, p) => n + p.length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}

export const drift: Detector = (records, figures, options) => {
  const moved = movedZero(records, figures, options)
  const course = moved.drift
  if (course === null) return []
  const { tauS, besidePerMinuteN, r } = course
  const common = (perMinuteN: number) => ({
    size: Math.abs(perMinuteN) / options.perUnit,
    unit: `${options.unit}/min`,
    costN: Math.abs(perMinuteN) * TO_PEAK_MIN,
    evidence: [evidenceIn(r.index, [], restSpans(r))],
  })
  const perMinute = (perMinuteN: number) => `${options.forceText(Math.abs(perMinuteN))} a minute`
  const warm = byTemperature(course, options)
  const evenN = tauS === null ? course.perMinuteN : besidePerMinuteN
  const even: Found[] =
    Math.abs(evenN) > leastDrift(figures, options)
      ? [
          {
            code: 'drift',
            ...common(evenN),
            text: `The zero moves ${perMinute(evenN)}${r.step === 'ordinary' ? ' from one rest to the next' : ''}.${warm}`,
            cure: 'If the rig was switched on lately, wait ten minutes and look again; else keep sun, hands and draughts off the cell, and zero before every pull.',
          },
        ]
      : []
  if (tauS === null) return even
  const wait = moved.waitMin
  return [
    {
      code: 'warm-up',
      ...common(course.perMinuteN),
      text: `${wait === null ? 'Wait after switching on' : `Wait ${minutes(wait)} after switching on`}: at first the zero moves ${perMinute(course.perMinuteN)}.${warm}`,
      cure: 'Leave the rig switched on for that long before you zero, calibrate or pull.',
    },
    ...even,
  ]
}

const restSpans = (r: Seen) =>
  r.stretches
    .filter(s => s.load === 'none')
    .map(s => ({ fromS: r.recording.timeS[s.from]!, toS: r.recording.timeS[s.to - 1]! }))

/** Drift a minute that matters. */
const leastDrift = ({ noiseN, stepN }: Figures, { withinN }: HealthOptions): number =>
  Math.max(withinN ?? NOISE_SHARE * (noiseN ?? 0), STEP_SHARE * stepN)

const minutes = (min: number): string =>
  min < 1.5 ? `${Math.ceil(60 * min)} seconds` : `${Math.ceil(min)} minutes`

/** The drift against a temperature that the record has beside: told where it goes with it. */
function byTemperature({ r }: Course, { forceText }: HealthOptions): string {
  const channel = r.recording.channels.find(c => c.kind === 'temperature')
  const rest = r.stretches.find(s => s.load === 'none')
  if (channel === undefined || rest === undefined) return ''
  const pairs: [number, number][] = []
  for (let i = rest.from; i < rest.to; i++)
    if (Number.isFinite(channel.values[i]!)) pairs.push([channel.values[i]!, r.cleanN[i]!])
  const meanOf = (k: 0 | 1) => pairs.reduce((sum, p) => sum + p[k], 0) / pairs.length
  if (pairs.length < 20) return ''
  const [t0, f0] = [meanOf(0), meanOf(1)]
  let tt = 0
  let tf = 0
  let ff = 0
  for (const [t, f] of pairs) {
    tt += (t - t0) ** 2
    tf += (t - t0) * (f - f0)
    ff += (f - f0) ** 2
  }
  if (!(tt > 0 && ff > 0) || (tf * tf) / (tt * ff) < 0.25) return ''
  return ` It goes with the temperature: ${forceText(Math.abs(tf / tt))} a degree.`
}

/** Creep matters from this many per cent of the load on: cheap cells are rated at a few hundredths. */
const LEAST_CREEP_PCT = 0.1

export const creep: Detector = (records, figures, options) => {
  const moved = movedZero(records, figures, options)
  // Of a zero that dies away little is left by the time the mass hangs; an even one goes on.
  const driftNPerS =
    (moved.drift === null
      ? 0
      : moved.drift.tauS === null
        ? moved.drift.perMinuteN
        : moved.drift.besidePerMinuteN) / 60
  const leftN = moved.drift?.tauS == null ? 0 : Math.abs(moved.drift.endPerMinuteN)
  return records.flatMap((r): Found[] => {
    if (r.step !== 'mass' || r.hung === null || r.hung.changeN === null) return []
    const crept = creepUnder(r.recording.timeS, r.cleanN, r.hung, driftNPerS)
    if (crept === null) return []
    const { pct, standardPct, changeN, heldS, returnPct } = crept
    const certain = Math.abs(pct) > CERTAIN * standardPct && Math.abs(changeN) > 1.5 * leftN * (heldS / 60)
    if (!(Math.abs(pct) > LEAST_CREEP_PCT && certain)) return []
    return [
      {
        code: 'creep',
        size: Math.abs(pct),
        unit: '%',
        costN: Math.abs(changeN),
        text:
          `Under the mass the reading goes on by ${threeDigits(Math.abs(pct))} % of it in ${Math.round(heldS)} s` +
          (returnPct === null ? '.' : `; when it is off ${threeDigits(Math.abs(returnPct))} % stay behind.`),
        cure: 'Tighten every screw between cell and frame and try again; a glued cell creeps by itself: then pull at one speed and calibrate with the same waiting time.',
        evidence: [
          evidenceIn(
            r.index,
            [],
            [
              {
                fromS: r.recording.timeS[r.hung.loaded.from]!,
                toS: r.recording.timeS[r.hung.loaded.to - 1]!,
              },
            ],
          ),
        ],
      },
    ]
  })
}

export const sign: Detector = (records, _, { perUnit, unit, forceText }) => {
  const told = records.filter(r => r.step === 'mass' && r.hung?.changeN != null && r.hung.changeN < 0)
  const first = told[0]
  if (first === undefined) return []
  const changeN = first.hung!.changeN!
  return [
    {
      code: 'sign',
      size: changeN / perUnit,
      unit,
      costN: null,
      text: `The mass lowers the reading by ${forceText(-changeN)}: a pull is counted negative.`,
      cure: 'Swap the two signal wires of the cell (often green and white), or put sign −1 into the rig’s description.',
      evidence: told.map(r =>
        evidenceIn(
          r.index,
          [],
          [
            {
              fromS: r.recording.timeS[r.hung!.loaded.from]!,
              toS: r.recording.timeS[r.hung!.loaded.to - 1]!,
            },
          ],
        ),
      ),
    },
  ]
}

/** Without load a reading this far from zero, as a share of the greatest force, was never tared. */
const UNTARED_SHARE = 0.05
const UNTARED_NOISES = 50

export const untared: Detector = (records, figures, { perUnit, unit, forceText }) => {
  if (figures.inCounts) return []
  const told = records.flatMap(r => {
    const rests = r.stretches.filter(s => s.load === 'none')
    const levels = rests.map(s => median(r.cleanN.subarray(s.from, s.to))!)
    if (levels.length === 0 || r.step === 'pull' || r.step === 'taps') return []
    const level = levels.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a))
    return [{ r, level, rests }]
  })
  const least = Math.max(
    UNTARED_NOISES * (figures.noiseN ?? 0),
    UNTARED_SHARE * (figures.loadN ?? 0),
    10 * figures.stepN,
  )
  const off = told.filter(t => Math.abs(t.level) > least)
  const worst = greatestOf(off, t => Math.abs(t.level))
  if (worst === null || off.length < told.length) return []
  return [
    {
      code: 'untared',
      size: worst.level / perUnit,
      unit,
      costN: 0,
      text: `Without load the cell reads ${forceText(worst.level)}: its zero was not set with nothing on it. Tenterhook takes the zero from the rests; your peaks lose nothing.`,
      cure: 'Set the zero with nothing on the cell, and let every record begin and end with a second of rest.',
      evidence: off.map(({ r }) => evidenceIn(r.index, [], restSpans(r))),
    },
  ]
}
