import type { Happening } from './bench.ts'
import { type ConverterSpec, spanPeriods } from './converter.ts'
import { type EventWeight, tearWeight } from './tearWeight.ts'

/**
 * What truly happened in a pretend pull, in SI units and on the time axis of its recording: what a reading is judged
 * against.
 */
export interface Truth {
  readonly file: string
  readonly family: string
  readonly seed: number
  readonly elements: number
  readonly peakN: number
  readonly peakS: number
  readonly pulls: readonly TruePull[]
  readonly events: readonly TrueEvent[]
  readonly regrips: readonly { readonly from: number; readonly restFrom: number; readonly to: number }[]
  readonly retares: readonly { readonly t: number; readonly readingAtNoLoadN: number }[]
  readonly zeroAtStartN: number
  /** Whether the record holds a stretch without load from which the zero can be had. */
  readonly zeroSeen: boolean
  readonly gaps: readonly { readonly from: number; readonly to: number }[]
  readonly spikes: readonly { readonly t: number }[]
  /** How many samples read the limit. */
  readonly clipped: number
  readonly rateHz: number
  readonly noiseN: number
  readonly quantumN: number
  readonly samples: number
  /** What a reading may rightly say of the strength; several where the record leaves it open. */
  readonly status: readonly ('no-pull' | 'not-recorded' | 'not-reached' | 'at-least' | 'measured')[]
  /** What a reading may rightly say of the zero; `null` where the record leaves it open, or nothing was pulled. */
  readonly zero: 'seen' | 'set-under-load' | 'as-indicated' | null
  /** Whether a fair peak can be had: the zero was seen, or the indicator's own is right. */
  readonly peakKnown: boolean
  /** Greatest force outside gaps; that of all time is `peakN`. */
  readonly peakShownN: number
}

export interface TruePull {
  readonly start: number
  readonly peakN: number
  readonly peakS: number
  readonly end: number
  readonly ends: PullEnd
  /** Ends that are as right. */
  readonly orEnds: readonly PullEnd[]
}

type PullEnd = 'break' | 'unload' | 'softening' | 'end-of-record'

export interface TrueEvent {
  readonly kind: 'partial-break' | 'break' | 'slip'
  /** First and last of a chain that the sampling cannot part. */
  readonly t: number
  readonly lastT: number
  readonly chain: boolean
  readonly beforeN: number
  readonly afterN: number
  readonly dropN: number
  readonly elements: number | null
  readonly weight: EventWeight
}

export interface Window {
  /** Steps of the log in the happening. */
  readonly from: number
  readonly to: number
  /** Time of the first step on the recording's axis. */
  readonly startS: number
}

/** A loading counts from here on: 2 % of the greatest force, 6 noise sd or 3 display steps, whichever is most. */
export const loadedFromN = (greatestN: number, noiseN: number, quantumN: number): number =>
  Math.max(0.02 * greatestN, 6 * noiseN, 3 * quantumN)

const LOADED_FOR_S = 0.5
const FREE_FOR_S = 0.25
/** From here on a tear may be called softening. */
const SLOW_TEAR_S = 1

/** Loadings over the threshold for more than 0.5 s that fall back under it for more than 0.25 s. */
export function truePulls(
  happening: Happening,
  window: Window,
  thresholdN: number,
  endTells: boolean,
): TruePull[] {
  const { forceN, stepS, backing, fractures } = happening
  const timeOf = (step: number): number => window.startS + (step - window.from) * stepS
  const pulls: TruePull[] = []
  let from = -1
  let free = 0
  let lastLoaded = -1
  const close = (atEnd: boolean): void => {
    if (from < 0) return
    let peak = from
    for (let i = from; i <= lastLoaded; i++) if (forceN[i]! > forceN[peak]!) peak = i
    const last = fractures.filter(f => f.lastStep >= lastLoaded - 0.03 / stepS && f.step <= lastLoaded + 1)
    const broke = last.length > 0
    const slowly = last.some(f => (f.lastStep - f.step) * stepS > SLOW_TEAR_S)
    if ((lastLoaded - from) * stepS > LOADED_FOR_S)
      pulls.push({
        start: timeOf(from),
        peakN: forceN[peak]!,
        peakS: timeOf(peak),
        end: timeOf(lastLoaded),
        ends: atEnd ? 'end-of-record' : broke ? 'break' : backing[lastLoaded] === 1 ? 'unload' : 'softening',
        orEnds: broke && atEnd && endTells ? ['break'] : broke && slowly ? ['softening'] : [],
      })
    from = -1
  }
  for (let i = window.from; i < window.to; i++) {
    if (forceN[i]! >= thresholdN) {
      if (from < 0) from = i
      lastLoaded = i
      free = 0
    } else if (from >= 0) {
      free++
      if (free * stepS > FREE_FOR_S) close(false)
    }
  }
  close(true)
  return pulls
}

/** Longest stretch without load in the window, in seconds. */
export function longestRestS(happening: Happening, window: Window): number {
  let longest = 0
  let run = 0
  for (let i = window.from; i < window.to; i++) {
    run = happening.forceN[i]! < 1e-6 ? run + 1 : 0
    longest = Math.max(longest, run)
  }
  return longest * happening.stepS
}

interface RawEvent {
  readonly kind: 'fracture' | 'slip'
  readonly step: number
  readonly lastStep: number
  readonly counted: boolean
  /** A tear that takes time. */
  readonly torn: boolean
}

/**
 * Events as far as the sampling can part them. Breaks less than `span + 1.5` periods apart are one event with their
 * elements added (`span`: what one output averages over); less than `span + 2.5` apart they may be seen as one or as
 * two. A drop that the ramp hides within the converter's span, or a slip with too little after it to show that the
 * stiffness stayed, need not be found.
 */
export function trueEvents(
  happening: Happening,
  window: Window,
  spec: ConverterSpec,
  quantumN: number,
  thresholdN: number,
  endTells: boolean,
): TrueEvent[] {
  const { forceN, stepS, fractures, slips } = happening
  const periodSteps = 1 / (spec.rateHz * stepS)
  const span = spanPeriods(spec.passes)
  const mergeSteps = (span + 1.5) * periodSteps
  const nearSteps = (span + 2.5) * periodSteps
  const timeOf = (step: number): number => window.startS + (step - window.from) * stepS
  const raw: RawEvent[] = [
    ...fractures.map(f => ({
      kind: 'fracture' as const,
      step: f.step,
      lastStep: Math.max(f.step, Math.min(f.lastStep, window.to - 2)),
      counted: f.counted,
      torn: f.lastStep > f.step,
    })),
    ...slips.map(s => ({
      kind: 'slip' as const,
      step: s.step,
      lastStep: s.lastStep,
      counted: false,
      torn: false,
    })),
  ]
    .filter(e => e.step >= window.from && e.step < window.to)
    .sort((a, b) => a.step - b.step)

  const groups: RawEvent[][] = []
  for (const e of raw) {
    const group = groups.at(-1)
    if (group && e.kind === group[0]!.kind && e.step - group.at(-1)!.lastStep < mergeSteps) group.push(e)
    else groups.push([e])
  }

  return groups.map((group, g) => {
    const first = group[0]!.step
    const last = group.at(-1)!.lastStep
    const afterStep = Math.min(forceN.length - 1, last + 1)
    const beforeN = forceN[first]!
    const afterN = forceN[afterStep]!
    const fromBefore = first - (groups[g - 1]?.at(-1)?.lastStep ?? Number.NEGATIVE_INFINITY)
    const toNext = (groups[g + 1]?.[0]?.step ?? Number.POSITIVE_INFINITY) - last
    const near = Math.min(fromBefore, toNext) < nearSteps
    const mixed =
      near &&
      ((fromBefore < nearSteps && groups[g - 1]![0]!.kind !== group[0]!.kind) ||
        (toNext < nearSteps && groups[g + 1]![0]!.kind !== group[0]!.kind))
    const back = Math.min(first - window.from, Math.round((span + 1) * periodSteps))
    const rampN =
      (Math.max(0, beforeN - forceN[first - back]!) * ((span + 1) * periodSteps)) / Math.max(1, back)
    const dropN = beforeN - afterN
    const cutInFall = group.at(-1)!.torn && last >= window.to - 2
    const kind =
      group[0]!.kind === 'slip' ? 'slip' : afterN < thresholdN || cutInFall ? 'break' : 'partial-break'
    const reloadSteps = Math.min(toNext, window.to - last)
    const seenAfter = (window.to - last) / periodSteps - span
    let weight: EventWeight = 'must'
    if (near || dropN < Math.max(8 * spec.noiseN, 3 * quantumN, 1.2 * rampN)) weight = 'optional'
    if (kind === 'slip' && reloadSteps < (span + 5) * periodSteps) weight = 'optional'
    if (kind !== 'break' && reloadSteps < (span + 2) * periodSteps) weight = 'optional'
    if (seenAfter * (1 / spec.rateHz) < FREE_FOR_S) weight = 'optional'
    if (mixed || seenAfter < 1 || dropN < Math.max(5 * spec.noiseN, 1.5 * quantumN)) weight = 'ignore'
    if (group.at(-1)!.torn || endTells)
      weight = tearWeight({
        ...{ endTells, cutInFall },
        readingsAfter: Math.floor(seenAfter + 1),
        fallPeriods: (last - first) / periodSteps,
        share: dropN / beforeN,
        clear: dropN > Math.max(8 * spec.noiseN, 3 * quantumN, 1.2 * rampN),
      })
    const elements = group.every(e => e.counted) ? group.length : null
    return {
      kind,
      t: timeOf(first),
      lastT: timeOf(last),
      chain: group.length > 1 || near,
      beforeN,
      afterN,
      dropN,
      elements,
      weight,
    }
  })
}
