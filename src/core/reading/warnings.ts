import type { Recording } from '../recording.ts'
import { ownScaleOf } from '../units/force.ts'
import { threeDigits } from '../units/showForce.ts'
import type { Analysis } from './analyse.ts'
import type { Reading, Warning } from './document.ts'
import { asSaid } from './saidBy.ts'

/** Rests of one zero are said to have moved from this share of the peak on, when noise does not explain it. */
const MOVED_SHARE = 0.005
/** Sampling is called slow when it leaves more than this share of the peak in doubt. */
const SLOW_SHARE = 0.02

/** What a person at the bench must know of this reading, in plain sentences with the figures in them. */
export function warningsOf(
  reading: Omit<Reading, 'warnings'>,
  analysis: Analysis,
  source: Recording,
  { isCalibrated, check }: { readonly isCalibrated: boolean; readonly check: string | null },
): Warning[] {
  return [
    ...zeroWarnings(analysis, reading),
    ...faultWarnings(reading, check === null ? '' : asTheCheck(analysis, check)),
    ...eventWarnings(reading),
    ...(isCalibrated
      ? []
      : [
          {
            code: 'not-calibrated',
            text: 'No calibration was given, so the doubt leaves out any error of the scale itself. Calibrate the rig with known masses and give its calibration.',
          },
        ]),
    ...source.assumptions.map(({ code, text }) => ({ code, text })),
  ]
}

/** A force of a record in words: in newton, or on the own scale of a log whose numbers are no force. */
const inWords = ({ forceUnit }: Reading['recording']): ((forceN: number) => string) => {
  const scale = ownScaleOf(forceUnit) ?? 'N'
  return forceN => `${threeDigits(forceN)} ${scale}`
}

function zeroWarnings(
  { zero, hidden, peaks, pace }: Analysis,
  { recording, results, zeros }: Omit<Reading, 'warnings'>,
): Warning[] {
  const out: Warning[] = []
  const force = inWords(recording)
  const sayer = zeros.find(({ saidBy }) => saidBy !== undefined)?.saidBy
  const preload = zero.epochs.find(e => e.preloadN > 0)
  if (preload) {
    out.push({
      code: 'zero-set-under-load',
      text: `The indicator was zeroed with ${force(preload.preloadN)} on the specimen. Forces are counted from the ${sayer === undefined ? 'rest after the break' : `stretch without load, ${asSaid(sayer)},`} instead. Next time zero it before the slack is taken up.`,
    })
  }
  if (peaks.length > 0 && zero.epochs.some(e => e.unseen)) {
    const guess = hidden ? ` The drops suggest about ${force(hidden.valueN)} more than is shown.` : ''
    out.push({
      code: 'zero-unknown',
      text: `No stretch without load can be told from the recording, so the zero is not known: forces stand as the indicator gave them.${guess} Record a few seconds of rest before the pull or after the break.`,
    })
  }
  const peakN = results.peakForce.valueN ?? 0
  const moved = zero.epochs.find(
    e => e.movedN > Math.max(MOVED_SHARE * peakN, 4 * e.standardN, 3 * pace.noiseN, 2 * pace.quantumN),
  )
  if (moved) {
    out.push({
      code: 'zero-moved',
      text: `The zero moved by ${force(moved.movedN)} between two rests${sayer === undefined ? '' : ` (one of them a rest, ${asSaid(sayer)})`}. In between it is taken to run straight or, where it stepped, to keep its level until the force fell; the doubt is wider. Let the electronics warm up, and look for something that rests on the cell.`,
    })
  }
  return out
}

/** How many wild readings are of the kinds that a check of the rig has found. */
const asTheCheck = ({ signal: { asKnown } }: Analysis, check: string): string =>
  asKnown === 0
    ? ''
    : ` ${asKnown === 1 ? 'One of them is' : `${asKnown} of them are`} of a kind that the ${check} found.`

function faultWarnings(
  { recording, results, budget }: Omit<Reading, 'warnings'>,
  asTheCheck: string,
): Warning[] {
  const out: Warning[] = []
  const { overRange, gaps, spikes, rateHz } = recording
  const force = inWords(recording)
  if (overRange) {
    out.push({
      code: 'over-range',
      text: `The reading is cut flat at ${force(overRange.limitN)} for ${overRange.count} samples; the true force went higher. Use a stronger cell or less gain.`,
    })
  }
  if (gaps.length > 0) {
    const longest = gaps.reduce((a, b) => (b.toS - b.fromS > a.toS - a.fromS ? b : a))
    out.push({
      code: 'gap',
      text: `Samples are missing ${gaps.length === 1 ? 'once' : `${gaps.length} times`}, the longest time for ${(longest.toS - longest.fromS).toFixed(2)} s from ${longest.fromS.toFixed(2)} s on. What happened in between is not known. Check the cable and the logger.`,
    })
  }
  if (spikes.length > 0) {
    const where = spikes
      .slice(0, 3)
      .map(s => `${s.atS.toFixed(2)} s`)
      .join(', ')
    out.push({
      code: 'spike',
      text: `${spikes.length === 1 ? 'One sample' : `${spikes.length} samples`} jumped and came back at once (${where}${spikes.length > 3 ? ' …' : ''}) and ${spikes.length === 1 ? 'was' : 'were'} left out.${asTheCheck} Check plugs and cable screens.`,
    })
  }
  const between = budget.find(line => line.source === 'between samples')
  const peakN = results.peakForce.valueN
  if (between && peakN !== null && 2 * between.standardN > SLOW_SHARE * peakN) {
    out.push({
      code: 'slow-sampling',
      text: `With ${threeDigits(rateHz)} samples a second the peak fell between two of them and is only known to ± ${force(2 * between.standardN)}. Sample faster or pull more slowly.`,
    })
  }
  return out
}

function eventWarnings({ events, pulls, recording }: Omit<Reading, 'warnings'>): Warning[] {
  const out: Warning[] = []
  const force = inWords(recording)
  const rezeros = events.filter(e => e.kind === 'rezero')
  if (rezeros.length > 0) {
    out.push({
      code: 'zero-set-again',
      text: `The indicator was zeroed again at ${rezeros.map(e => `${e.atS.toFixed(2)} s`).join(', ')}. What comes after is read with its own zero. Leave the zero alone until the recording has ended.`,
    })
  }
  const told = events.filter(e => e.kind === 'slip' && e.saidBy !== undefined)
  if (told.length > 0) {
    const each = told.map(
      e => `the drop at ${e.atS.toFixed(2)} s by ${force(e.dropN)} is taken as a slip, ${asSaid(e.saidBy!)}`,
    )
    const text = each.join('; ')
    out.push({
      code: 'slip',
      text: `${text.charAt(0).toUpperCase()}${text.slice(1)}. Clean or tighten the grips.`,
    })
  }
  const slips = events.filter(e => e.kind === 'slip' && e.saidBy === undefined)
  if (slips.length > 0) {
    const largest = slips.reduce((a, b) => (b.dropN > a.dropN ? b : a))
    out.push({
      code: 'slip',
      text: `The specimen slipped in its grips ${slips.length === 1 ? 'once' : `${slips.length} times`}, most at ${largest.atS.toFixed(2)} s by ${force(largest.dropN)}: the force fell but the stiffness stayed. Clean or tighten the grips.`,
    })
  }
  const broke = events.some(e => e.kind === 'break')
  if (pulls.length > 0 && !broke && !pulls.some(p => p.ends === 'break' || p.ends === 'softening')) {
    out.push({
      code: 'no-break',
      text: 'No pull ends in a break, so the specimen may hold more than the greatest force that was read.',
    })
  }
  return out
}
