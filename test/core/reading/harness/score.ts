import type { Truth } from '../../../../src/capture/pretend/index.ts'
import type { Reading, ReadingEvent } from '../../../../src/core/reading/document.ts'

/**
 * Judges a reading against the truth of its pull, with the meanings of `samples/score.mjs` of the project's shared
 * material. Added here, because the pretend rig makes what the open records do not: of a peak that is called
 * `at-least` only the lower end is judged; a new zero where one log follows another is no false alarm; a peak whose
 * zero was not seen is judged where the indicator's own zero is right; what is said of the strength and of the zero.
 */
export interface Score {
  readonly family: string
  readonly seed: number
  readonly notes: readonly string[]
  readonly peakError: number | null
  readonly rateHz: number
  readonly fast: boolean
  readonly peakCovered: boolean | null
  /** Half of the interval over the peak; `null` where no interval is asked. */
  readonly peakWidth: number | null
  /** Off by more than 5 %, or 10 % where the zero is said to be as indicated. */
  readonly farOff: boolean | null
  readonly statusRight: boolean | null
  readonly zeroRight: boolean | null
  /** Events dated inside unrecorded time. */
  readonly inGap: number
  readonly pullsRight: boolean
  readonly endsRight: readonly boolean[]
  readonly laterErrors: readonly number[]
  readonly found: number
  readonly missed: number
  readonly invented: number
  readonly kindRight: number
  readonly elementsOff: readonly number[]
  readonly elementsIn: readonly boolean[]
  readonly elementsWidth: readonly number[]
  readonly elementsGiven: readonly boolean[]
  readonly saysClipped: boolean | null
  readonly saysZeroUnknown: boolean | null
  readonly spikesSaid: number | null
  readonly gapsSaid: number | null
  readonly rezeroSaid: number | null
  readonly falseAlarms: number
}

export function scoreOne(reading: Reading, truth: Truth): Score {
  const notes: string[] = []
  const warned = new Set(reading.warnings.map(w => w.code))
  const peak = scorePeak(reading, truth, notes)
  const pulls = scorePulls(reading, truth, notes)
  const events = truth.clipped > 0 ? noEvents : scoreEvents(reading, truth, notes)
  return {
    family: truth.family,
    seed: truth.seed,
    notes,
    rateHz: truth.rateHz,
    // Nominally 40 a second and more; the pretend converter's clock is off by up to 3 %.
    fast: truth.rateHz >= 38,
    ...peak,
    ...scoreWords(reading, truth, notes),
    ...pulls,
    ...events,
    saysClipped: truth.clipped > 0 ? warned.has('over-range') : null,
    saysZeroUnknown: truth.clipped === 0 && !truth.zeroSeen ? warned.has('zero-unknown') : null,
    spikesSaid: shareOf(truth.spikes, s =>
      reading.recording.spikes.some(x => Math.abs(x.atS - s.t) < 1.5 / truth.rateHz),
    ),
    gapsSaid: shareOf(truth.gaps, g =>
      reading.recording.gaps.some(x => Math.abs(x.fromS - g.from) < 3 / truth.rateHz),
    ),
    rezeroSaid: shareOf(truth.retares, r =>
      reading.events.some(e => e.kind === 'rezero' && Math.abs(e.atS - r.t) < 0.5),
    ),
    falseAlarms: falseAlarms(reading, truth, warned, notes),
  }
}

const shareOf = <T>(all: readonly T[], holds: (one: T) => boolean): number | null =>
  all.length === 0 ? null : all.filter(holds).length / all.length

function scorePeak(
  reading: Reading,
  truth: Truth,
  notes: string[],
): Pick<Score, 'peakError' | 'peakCovered' | 'peakWidth' | 'farOff'> {
  const known = truth.peakKnown ?? (truth.zeroSeen && truth.clipped === 0)
  if (!known) return { peakError: null, peakCovered: null, peakWidth: null, farOff: null }
  const { valueN, uncertaintyN, lowN, highN, status } = reading.results.peakForce
  if (valueN === null) {
    notes.push(`no peak (${status}) for ${truth.peakN.toFixed(2)}`)
    return { peakError: 1, peakCovered: false, peakWidth: null, farOff: true }
  }
  const low = lowN ?? (uncertaintyN === null ? valueN : valueN - uncertaintyN)
  const high = highN ?? (uncertaintyN === null ? Number.POSITIVE_INFINITY : valueN + uncertaintyN)
  const open = status === 'at-least'
  const peakError = Math.abs(valueN - truth.peakN) / truth.peakN
  const peakCovered = low <= truth.peakN && (open || truth.peakN <= high)
  if (peakError >= 0.02 || !peakCovered)
    notes.push(
      `peak ${valueN.toFixed(2)} [${low.toFixed(2)}, ${high.toFixed(2)}] ${status} for ${truth.peakN.toFixed(2)}`,
    )
  return {
    peakError,
    peakCovered,
    // Where the cell was not seen empty, the interval has to hold the zeros that are left: no width is asked.
    peakWidth: open || !Number.isFinite(high) || !truth.zeroSeen ? null : (high - low) / 2 / truth.peakN,
    farOff: peakError > (reading.results.peakForce.zero === 'as-indicated' ? 0.1 : 0.05),
  }
}

function scoreWords(
  reading: Reading,
  truth: Truth,
  notes: string[],
): Pick<Score, 'statusRight' | 'zeroRight' | 'inGap'> {
  const { status, zero } = reading.results.peakForce
  // The open records do not tell these.
  const statusRight = truth.status === undefined ? null : truth.status.some(s => s === status)
  const zeroRight = truth.zero == null ? null : truth.zero === zero
  if (statusRight === false) notes.push(`says ${status} for ${truth.status.join(' or ')}`)
  if (zeroRight === false) notes.push(`zero ${zero} for ${truth.zero}`)
  const step = 0.5 / truth.rateHz
  const inGap = reading.events.filter(e =>
    truth.gaps.some(g => e.atS > g.from + step && e.atS < g.to - step),
  ).length
  if (inGap > 0) notes.push(`${inGap} events inside gaps`)
  return { statusRight, zeroRight, inGap }
}

function scorePulls(
  reading: Reading,
  truth: Truth,
  notes: string[],
): Pick<Score, 'pullsRight' | 'endsRight' | 'laterErrors'> {
  const got = reading.pulls
  const pullsRight = got.length === truth.pulls.length
  if (!pullsRight) {
    notes.push(`${got.length} pulls for ${truth.pulls.length}`)
    return { pullsRight, endsRight: [], laterErrors: [] }
  }
  const endsRight =
    truth.clipped > 0 ? [] : truth.pulls.map((p, i) => [p.ends, ...(p.orEnds ?? [])].includes(got[i]!.ends))
  endsRight.forEach((right, i) => {
    if (!right) notes.push(`pull ${i} ends by ${got[i]!.ends} for ${truth.pulls[i]!.ends}`)
  })
  const judged = truth.zeroSeen && truth.clipped === 0
  const laterErrors = judged
    ? truth.pulls.map((p, i) => Math.abs(got[i]!.peakN - p.peakN) / p.peakN).slice(1)
    : []
  return { pullsRight, endsRight, laterErrors }
}

type EventScore = Pick<
  Score,
  | 'found'
  | 'missed'
  | 'invented'
  | 'kindRight'
  | 'elementsOff'
  | 'elementsIn'
  | 'elementsWidth'
  | 'elementsGiven'
>

const noEvents: EventScore = {
  found: 0,
  missed: 0,
  invented: 0,
  kindRight: 0,
  elementsOff: [],
  elementsIn: [],
  elementsWidth: [],
  elementsGiven: [],
}

const isDrop = (e: ReadingEvent): boolean =>
  e.kind === 'partial-break' || e.kind === 'break' || e.kind === 'slip'

function scoreEvents(reading: Reading, truth: Truth, notes: string[]): EventScore {
  const toleranceS = Math.max(2.5 / truth.rateHz, 0.15)
  const free = new Set(reading.events.filter(isDrop))
  let found = 0
  let missed = 0
  let kindRight = 0
  const elementsOff: number[] = []
  const elementsIn: boolean[] = []
  const elementsWidth: number[] = []
  const elementsGiven: boolean[] = []
  for (const weight of ['must', 'optional', 'ignore'] as const)
    for (const want of truth.events.filter(e => e.weight === weight)) {
      // In a gap it can only be told that it happened somewhere in it.
      const gap = truth.gaps.find(g => want.t >= g.from && want.t <= g.to)
      const best = nearest(free, gap?.from ?? want.t, gap?.to ?? want.lastT, toleranceS)
      if (best) free.delete(best)
      if (weight !== 'must') continue
      if (!best) {
        missed++
        notes.push(`missed ${want.kind} at ${want.t.toFixed(2)} (${want.dropN.toFixed(2)} N)`)
        continue
      }
      found++
      if (best.kind === want.kind) kindRight++
      else notes.push(`${want.kind} at ${want.t.toFixed(2)} called ${best.kind}`)
      if (want.elements === null || want.kind !== 'partial-break') continue
      elementsGiven.push(best.elements !== null)
      if (best.elements === null) continue
      const { estimate, low, high } = best.elements
      elementsOff.push(Math.abs(estimate - want.elements))
      elementsIn.push(want.elements >= low && want.elements <= high)
      elementsWidth.push(high - low)
      if (want.elements < low || want.elements > high)
        notes.push(`${want.elements} elements at ${want.t.toFixed(2)} read as ${estimate} (${low}–${high})`)
    }
  const chains = truth.events.filter(e => e.chain)
  let invented = 0
  for (const e of free) {
    if (chains.some(c => e.atS >= c.t - toleranceS && e.atS <= c.lastT + toleranceS)) continue
    invented++
    notes.push(`${e.kind} at ${e.atS.toFixed(2)} (${e.dropN.toFixed(2)} N) is not there`)
  }
  return { found, missed, invented, kindRight, elementsOff, elementsIn, elementsWidth, elementsGiven }
}

function nearest(
  events: ReadonlySet<ReadingEvent>,
  fromS: number,
  toS: number,
  within: number,
): ReadingEvent | null {
  let best: ReadingEvent | null = null
  let bestOff = Number.POSITIVE_INFINITY
  for (const e of events) {
    const off = Math.max(0, fromS - e.atS, e.atS - toS)
    if (off <= within && off < bestOff) {
      best = e
      bestOff = off
    }
  }
  return best
}

function falseAlarms(reading: Reading, truth: Truth, warned: ReadonlySet<string>, notes: string[]): number {
  const { recording } = reading
  const seams = recording.segments.slice(1).map(s => s.fromS)
  const alarms: string[] = []
  for (const s of recording.spikes)
    if (!truth.spikes.some(t => Math.abs(t.t - s.atS) < 1.5 / truth.rateHz))
      alarms.push(`spike at ${s.atS.toFixed(2)}`)
  for (const g of recording.gaps)
    if (!truth.gaps.some(t => Math.abs(t.from - g.fromS) < 3 / truth.rateHz))
      alarms.push(`gap at ${g.fromS.toFixed(2)}`)
  for (const e of reading.events)
    if (
      e.kind === 'rezero' &&
      !truth.retares.some(r => Math.abs(r.t - e.atS) < 0.5) &&
      !seams.some(s => Math.abs(s - e.atS) < 0.5)
    )
      alarms.push(`rezero at ${e.atS.toFixed(2)}`)
  const grounds: Record<string, boolean> = {
    'over-range': truth.clipped > 0,
    'zero-unknown': !truth.zeroSeen,
    'zero-set-again': truth.retares.length > 0 || seams.length > 0,
    gap: truth.gaps.length > 0,
    spike: truth.spikes.length > 0,
    slip: truth.events.some(e => e.kind === 'slip'),
  }
  for (const [code, there] of Object.entries(grounds))
    if (warned.has(code) && !there) alarms.push(`warns ${code}`)
  if (alarms.length > 0) notes.push(`needless: ${alarms.join(', ')}`)
  return alarms.length
}
