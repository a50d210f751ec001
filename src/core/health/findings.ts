import { readRecording } from '../reading/readRecording.ts'
import { extentIn } from '../signal/extent.ts'
import { findOverRange } from '../signal/overRange.ts'
import { threeDigits } from '../units/showForce.ts'
import { countedReadings } from './clock.ts'
import type { Figures } from './figures.ts'
import { type GlitchKind, showsZeroN, sortGlitches } from './glitchKinds.ts'
import { evidenceIn, type Seen } from './look.ts'
import { repeatedShare } from './repeats.ts'
import type { Found, HealthOptions } from './types.ts'

/** One look at all records; each gives a finding or none. */
export type Detector = (records: readonly Seen[], figures: Figures, options: HealthOptions) => Found[]

/** A converter's own clock is off by some per cent; what is off by more is set otherwise than was meant. */
const RATE_OFF_SHARE = 0.15
/** Stamps in whole milliseconds jitter by 4 % of the period at 80 readings a second, and nobody minds. */
const JITTER_SHARE = 0.12
const LOST_SHARE = 0.001
/** With more of the missing readings side by side than this share, it is holes that the device makes. */
const HOLES_SHARE = 0.5

const count = (n: number): string => String(Math.round(n))
const percent = (share: number): string => `${threeDigits(100 * share)} %`
const speedOf = ({ hand }: Figures): number | null => hand?.loadingNPerS ?? null
const times = (a: number | null, b: number): number | null => (a === null ? null : a * b)

/** Fresh readings a second against those that were asked for. */
export const rate: Detector = (records, figures, { askedRateHz }) => {
  const { rateHz } = figures
  if (rateHz === null || askedRateHz === undefined) return []
  if (Math.abs(rateHz / askedRateHz - 1) <= RATE_OFF_SHARE) return []
  const slower = rateHz < askedRateHz
  return [
    {
      code: 'rate',
      size: rateHz,
      unit: 'Hz',
      costN: slower ? times(speedOf(figures), 1 / rateHz) : 0,
      text: `The converter gives ${threeDigits(rateHz)} readings a second where ${threeDigits(askedRateHz)} were meant.${slower ? ' Between two readings the peak goes unseen for longer.' : ''}`,
      cure: slower
        ? 'Set the rate pin or jumper of the converter to its fast rate (80), and see that the program in the device does not wait between two readings.'
        : 'Nothing need be done; put the true rate into the rig’s description.',
      evidence: records.filter(r => r.periodS > 0).map(r => evidenceIn(r.index, [])),
    },
  ]
}

export const jitter: Detector = (records, figures) => {
  const uneven = records.filter(
    r =>
      r.recording.timeFrom !== 'rate' &&
      r.periodS > 0 &&
      r.lineClock.jitterS > JITTER_SHARE * r.lineClock.periodS,
  )
  const worst = greatestOf(uneven, r => r.lineClock.jitterS)
  if (worst === null) return []
  const { jitterS, periodS } = worst.lineClock
  return [
    {
      code: 'jitter',
      size: 1000 * jitterS,
      unit: 'ms',
      costN: times(speedOf(figures), jitterS),
      text: `The steps from one reading to the next scatter by ${threeDigits(1000 * jitterS)} ms about ${threeDigits(1000 * periodS)} ms.`,
      cure: 'Take the time in the device, when the converter is ready, and send it along with each reading; the time of arrival depends on all else that the computer does.',
      evidence: uneven.map(r => evidenceIn(r.index, [])),
    },
  ]
}

/** Readings missing by the clock or by their numbers. */
export const lost: Detector = (records, figures) => {
  const told = records.map(r => {
    const counted = countedReadings(r.given)
    return {
      r,
      lost: Math.max(counted?.lost ?? 0, r.lineClock.lost),
      outOfOrder: counted?.outOfOrder ?? 0,
      all: r.lineClock.steps + Math.max(counted?.lost ?? 0, r.lineClock.lost),
    }
  })
  const all = told.reduce((n, t) => n + t.all, 0)
  const missing = told.reduce((n, t) => n + t.lost, 0)
  const swapped = told.reduce((n, t) => n + t.outOfOrder, 0)
  const isPause = told.every(t => t.r.step === 'ordinary') && told.every(t => t.r.lineClock.holes.length < 2)
  // One long hole in a pull is a pause of whoever pulled.
  if (
    all === 0 ||
    (isPause && swapped === 0) ||
    !(missing + swapped >= 2) ||
    !((missing + swapped) / all > LOST_SHARE)
  )
    return []
  const holes = told.flatMap(t => t.r.lineClock.holes)
  const longestS = holes.reduce((most, h) => Math.max(most, h.toS - h.fromS), 0)
  const several = holes.filter(h => h.lost > 1)
  // Single readings that are lost at random fall side by side now and then.
  const isHoles = several.reduce((n, h) => n + h.lost, 0) > HOLES_SHARE * missing
  return [
    {
      code: 'lost',
      size: (100 * missing) / all,
      unit: '%',
      costN: times(speedOf(figures), longestS),
      text:
        `${count(missing)} of ${count(all)} readings are missing (${percent(missing / all)})` +
        (isHoles
          ? `, in ${holes.length === 1 ? 'one hole' : `${count(holes.length)} holes`} of up to ${threeDigits(longestS)} s.`
          : several.length > 0
            ? `, most of them one at a time; the longest hole is ${threeDigits(longestS)} s.`
            : ', one at a time.') +
        (swapped > 0 ? ` ${count(swapped)} came out of order.` : ''),
      cure: isHoles
        ? 'See what the device does in the holes: a converter that is switched off and on, or set anew, gives nothing for four readings; leave it switched on, and do not print or wait in between.'
        : 'Let the program in the device take a reading whenever one is ready and send it without waiting; a faster line (115200 baud or more) helps.',
      evidence: told
        .filter(t => t.r.lineClock.holes.length > 0)
        .map(t =>
          evidenceIn(
            t.r.index,
            [],
            t.r.lineClock.holes.map(({ fromS, toS }) => ({ fromS, toS })),
          ),
        ),
    },
  ]
}

export const repeated: Detector = (records, figures) => {
  const told = records.filter(r => r.repeats !== null)
  const worst = greatestOf(told, r => r.repeats!.each ?? 0)
  if (worst === null) return []
  const { each } = worst.repeats!
  const share = each === null ? repeatedShare(told.map(r => r.repeats!)) : 1 - 1 / each
  if (share === null) return []
  const { periodS } = worst
  return [
    {
      code: 'repeated',
      size: 100 * share,
      unit: '%',
      costN: times(speedOf(figures), each === null ? periodS : 0),
      text:
        each === null
          ? `${percent(share)} of the readings are the one before once more.`
          : `Every reading comes ${threeDigits(each)} times: the converter gives no more than ${threeDigits(1 / periodS)} fresh ones a second.`,
      cure: 'Read the converter only when it says that a reading is ready, and send each once.',
      evidence: told.map(r =>
        evidenceIn(r.index, each === null ? r.repeats!.at.map(i => r.given.timeS[i]!) : []),
      ),
    },
  ]
}

export const stuck: Detector = (records, figures) => {
  const told = records.filter(r => r.stuck.length > 0)
  const runs = told.flatMap(r =>
    r.stuck.map(s => ({ r, ...s, forS: r.given.timeS[s.to - 1]! - r.given.timeS[s.from]! })),
  )
  const longest = greatestOf(runs, s => s.forS)
  if (longest === null) return []
  return [
    {
      code: 'stuck',
      size: longest.forS,
      unit: 's',
      costN: times(speedOf(figures), longest.forS),
      text: `The reading stood still ${runs.length === 1 ? 'once' : `${count(runs.length)} times`}, for up to ${threeDigits(longest.forS)} s, while the noise should have gone on.`,
      cure: 'The device sends the last reading when the converter does not answer: check its supply and the two wires to it, and let the program say nothing rather than the old value.',
      evidence: told.map(r =>
        evidenceIn(
          r.index,
          [],
          r.stuck.map(s => ({ fromS: r.given.timeS[s.from]!, toS: r.given.timeS[s.to - 1]! })),
        ),
      ),
    },
  ]
}

const GLITCH_WORDS: Record<GlitchKind, { what: string; cure: string }> = {
  doubled: {
    what: 'are doubled: one bit too many was read from the chip, most likely because an interrupt ran while it was read',
    cure: 'Keep interrupts off while the bits are read, and look at the data line once more after the last clock.',
  },
  halved: {
    what: 'are halved: one bit too few was read from the chip',
    cure: 'Keep interrupts off while the bits are read, and give the clock line at least a microsecond at each level.',
  },
  ones: {
    what: 'are a word of all ones or a power of two less one: the data line stayed high while the chip was read',
    cure: 'Wait until the chip says that it is ready before reading; keep its wires short and its clock line low (60 µs high switch it off).',
  },
  channel: {
    what: 'come from another channel or gain of the converter',
    cure: 'Give the chip the same number of clocks after every reading, 25 for its first channel at the usual gain.',
  },
  zero: {
    what: 'are exactly zero: nothing was read and zero was sent',
    cure: 'Let the program send nothing where it has no reading.',
  },
  other: {
    what: 'are wild, without a pattern',
    cure: 'Shorten and twist the wires, join the grounds in one point, and put 100 nF across the converter’s supply.',
  },
}

const LEFT_OUT = ' Tenterhook leaves them out; your peaks lose nothing.'

export const glitches: Detector = (records, figures, { forceText }) => {
  const readings = records.filter(r => r.step !== 'taps').reduce((n, r) => n + r.given.forceN.length, 0)
  const owner = new Map(
    records.filter(r => r.step !== 'taps').flatMap(r => r.glitches.map(g => [g, r] as const)),
  )
  const scale = {
    noiseN: figures.noiseN ?? records[0]?.roughNoiseN ?? 0,
    stepN: figures.stepN,
    inCounts: figures.inCounts,
  }
  const kinds = sortGlitches([...owner.keys()], scale)
  const loaded = Math.max(
    1,
    records
      .filter(r => r.step !== 'taps')
      .reduce((n, r) => n + r.cleanN.filter(v => Math.abs(v) > showsZeroN(scale)).length, 0),
  )
  const byCode = new Map<Found['code'], (typeof kinds)[number][]>()
  for (const kind of kinds) {
    const code = `glitch-${kind.kind === 'zero' ? 'other' : kind.kind}` as const
    byCode.set(code, [...(byCode.get(code) ?? []), kind])
  }
  return [...byCode].map(([code, parts]) => {
    const all = parts.flatMap(p => p.glitches)
    const { what, cure } = GLITCH_WORDS[parts[0]!.kind]
    // A zero among readings about zero is not seen: of those kinds that are, each has its own share.
    const share = parts.reduce(
      (sum, { kind, glitches: own }) =>
        sum +
        (kind === 'zero'
          ? own.filter(g => Math.abs(g.levelN) > showsZeroN(scale)).length / loaded
          : own.length / readings),
      0,
    )
    const level = parts[0]!.levelN
    const few = all.length <= 5
    const which = few
      ? `${all.length === 1 ? 'One reading' : `${count(all.length)} readings`}`
      : `${percent(share)} of the readings`
    return {
      code,
      size: 100 * share,
      unit: '%',
      costN: 0,
      text: `${which} ${all.length === 1 ? single(what) : what}${few ? ` (${all.map(g => forceText(g.gotN)).join(', ')})` : level !== null ? ` (${forceText(level)})` : ''}.${LEFT_OUT}`,
      cure,
      evidence: records
        .map(r => ({ r, own: all.filter(g => owner.get(g) === r) }))
        .filter(({ own }) => own.length > 0)
        .map(({ r, own }) =>
          evidenceIn(
            r.index,
            own.map(g => r.given.timeS[g.index]!),
          ),
        ),
    }
  })
}

const single = (what: string): string => what.replace(/^are /, 'is ').replace(/^come /, 'comes ')

/** Stands at the end of the converter's range, or of what the program can send. */
export const saturated: Detector = (records, { turned }, { forceText }) => {
  const told = records.flatMap(r => {
    // Of a pull the reading says it, as it says it everywhere else.
    if (r.step === 'ordinary') {
      const limit = readRecording(r.recording).recording.overRange
      return limit === null || isRounded(r, limit.limitN) ? [] : [{ r, limitN: limit.limitN }]
    }
    const ends = [lowest(r.cleanN), highest(r.cleanN)].filter(v => isRangeEnd(v, r.recording.forceUnit))
    if (ends.length > 0) return [{ r, limitN: ends[0]! }]
    // A mass that hangs still on a coarse display is not cut, nor is an empty cell.
    if (r.step !== 'pull' && !standsStill(r)) return []
    const upN = turned === 1 ? r.cleanN : r.cleanN.map(v => -v)
    const over = findOverRange(upN, {
      noiseN: r.roughNoiseN,
      quantumN: r.stepN,
      periodS: r.periodS,
      zeroN: lowest(upN),
      greatestN: highest(upN),
    })
    const isStuck = (limitN: number): boolean => r.stuck.some(s => r.given.forceN[s.from] === limitN)
    return over === null || isStuck(turned * over.limitN) ? [] : [{ r, limitN: turned * over.limitN }]
  })
  const cut = told.map(({ r, limitN }) => ({ r, limitN, ...standingAt(r.cleanN, limitN) }))
  const worst = greatestOf(cut, t => t.count)
  if (worst === null) return []
  return [
    {
      code: 'saturated',
      size: (100 * worst.count) / worst.r.recording.forceN.length,
      unit: '%',
      costN: null,
      text: `${count(worst.count)} readings stand at the end of the range, at ${forceText(worst.limitN)}: what the force did there is not known.`,
      cure: 'Use a cell of greater capacity or a lower gain; check the four wires of the cell, of which one may be off.',
      evidence: cut.map(({ r, from, to }) =>
        evidenceIn(r.index, [], [{ fromS: r.recording.timeS[from]!, toS: r.recording.timeS[to]! }]),
      ),
    },
  ]
}

/**
 * Display steps below a top, and how much longer the force must stay on the first of them than on the last.
 */
const STEPS_BELOW = 5
const SLOWS = 1.7

/**
 * Whether the force slowed down from one display step to the next before it stood on the greatest: a
 * specimen that yields does, a range that is cut off is come to at full speed.
 */
function isRounded({ cleanN, stepN, roughNoiseN }: Seen, limitN: number): boolean {
  const top = cleanN.findIndex(v => v >= limitN - 1e-9 * Math.abs(limitN))
  // A display of so many digits steps farther the more it shows: the step is that to the reading before.
  const localN = limitN - (cleanN[top - 1] ?? limitN)
  if (!(stepN > 0 && localN > roughNoiseN)) return false
  const on = Array.from({ length: STEPS_BELOW }, () => 0)
  for (let i = top - 1; i >= 0; i--) {
    const below = Math.round((limitN - cleanN[i]!) / localN) - 1
    if (below >= STEPS_BELOW) break
    if (below >= 0) on[below]!++
  }
  return on[STEPS_BELOW - 1]! >= 2 && on[0]! >= SLOWS * on[STEPS_BELOW - 1]!
}

function standingAt(forceN: Float64Array, limitN: number): { count: number; from: number; to: number } {
  const near = 1e-9 * Math.abs(limitN)
  let count = 0
  let from = -1
  let to = -1
  for (let i = 0; i < forceN.length; i++) {
    if (Math.abs(forceN[i]! - limitN) > near) continue
    if (from < 0) from = i
    to = i
    count++
  }
  return { count, from: Math.max(0, from), to: Math.max(0, to) }
}

/** Whether the reading under the mass does not move at all, though it does without. */
const standsStill = ({ hung, cleanN, roughNoiseN, stepN }: Seen): boolean =>
  hung !== null &&
  stepN < roughNoiseN &&
  extentIn(cleanN, hung.loaded.from, hung.loaded.to).high ===
    extentIn(cleanN, hung.loaded.from, hung.loaded.to).low

/** Ends of a 24-bit word. */
const isRangeEnd = (value: number, unit: string | null): boolean =>
  unit === 'counts' && (Math.abs(value) === 2 ** 23 - 1 || value === -(2 ** 23))

const highest = (values: Float64Array): number => extentIn(values, 0, values.length).high
const lowest = (values: Float64Array): number => extentIn(values, 0, values.length).low

export function greatestOf<T>(items: readonly T[], of: (item: T) => number): T | null {
  return items.reduce<T | null>((best, item) => (best === null || of(item) > of(best) ? item : best), null)
}
