import { plainNumber, threeDigits } from '../../units/showForce.ts'

/** What is known of the rig and of the pulls expected; what is `null` is not checked. */
export interface RigExpectation {
  readonly capacityN: number | null
  readonly expectedPeakN: number | null
  /** Samples a second. */
  readonly rateHz: number | null
  /** Readings that the converter averages into one; 1 for none. */
  readonly averaged: number
  readonly speedMmS: number | null
  readonly strokeMm: number | null
  /** Extension of a specimen up to its break. */
  readonly extensionMm: number | null
  /** Seconds from the first tug to the break, where known instead of speed and extension. */
  readonly timeToBreakS: number | null
  /** Greatest part of the peak, in percent, that may be lost between two readings. */
  readonly accuracyPct: number
  /** What the last check of the rig's health found; `null` where there was none. */
  readonly health: {
    /** Day of it, ISO 8601. */
    readonly day: string
    readonly leastDropN: number | null
    /** Minutes after switching on until the zero stands. */
    readonly waitMin: number | null
  } | null
}

export interface RigCheck {
  readonly check: 'capacity' | 'sampling' | 'under-read' | 'stroke' | 'least-drop' | 'warm-up' | 'missing'
  readonly ok: boolean
  readonly text: string
}

/** Share of the capacity within which the expected peak should fall: common practice, no source. */
const CAPACITY_SHARE = [0.2, 0.8] as const

/** Does the rig suit the plan? One line for each thing that can be checked, and one that names what is missing. */
export function rigChecks(rig: RigExpectation): RigCheck[] {
  const missing = [
    ...(rig.capacityN === null ? ['the cell’s capacity'] : []),
    ...(rig.expectedPeakN === null ? ['the peak expected'] : []),
    ...(rig.rateHz === null ? ['the sampling rate'] : []),
    ...(timeToBreak(rig) === null ? ['the time to break (or speed and extension)'] : []),
    ...(rig.strokeMm === null ? ['the stroke'] : []),
  ]
  return [
    ...capacityCheck(rig),
    ...samplingChecks(rig),
    ...strokeCheck(rig),
    ...healthChecks(rig),
    ...(missing.length > 0
      ? [{ check: 'missing' as const, ok: false, text: `Not checked for want of: ${missing.join(', ')}.` }]
      : []),
  ]
}

function capacityCheck({ capacityN, expectedPeakN }: RigExpectation): RigCheck[] {
  if (capacityN === null || expectedPeakN === null) return []
  const share = expectedPeakN / capacityN
  const [low, high] = CAPACITY_SHARE
  const is = `The expected peak is ${plainNumber(share * 100, 0)} % of the cell's capacity`
  if (share > 1)
    return [{ check: 'capacity', ok: false, text: `${is}: never pull beyond it. Use a larger cell.` }]
  if (share > high)
    return [
      {
        check: 'capacity',
        ok: false,
        text: `${is}, over 80 %: a strong specimen would overload it. Use a larger cell.`,
      },
    ]
  if (share < low)
    return [
      {
        check: 'capacity',
        ok: false,
        text: `${is}, under 20 %: its errors weigh heavily there. Use a smaller cell if you can.`,
      },
    ]
  return [{ check: 'capacity', ok: true, text: `${is}, within 20 to 80 %.` }]
}

/** Seconds from the first tug to the break, as given or from extension and speed. */
const timeToBreak = ({ timeToBreakS, extensionMm, speedMmS }: RigExpectation): number | null =>
  timeToBreakS ?? (extensionMm !== null && speedMmS !== null && speedMmS > 0 ? extensionMm / speedMmS : null)

/**
 * Lowest sampling rate after ISO 6892-1, annex A: (ė E)/(R q) · 100, strain rate in 1/s, modulus and yield strength in
 * one unit, q the accuracy of force in percent. From memory of the standard; no copy was at hand.
 */
export const isoLowestRateHz = (
  strainRatePerS: number,
  modulus: number,
  strength: number,
  accuracyPct: number,
): number => ((strainRatePerS * modulus) / (strength * accuracyPct)) * 100

/** The same in forces: between two readings the force may grow by at most q percent of the peak. */
export const lowestRateHz = (forceRateNS: number, peakN: number, accuracyPct: number): number =>
  (100 * forceRateNS) / (peakN * accuracyPct)

/**
 * Part of the peak that may go unseen, as a share of it, when the force grows steadily to the break: at worst one
 * sampling period of growth, and half the span of the converter's averaging on top.
 */
export const worstUnderRead = (timeToBreakS: number, rateHz: number, averaged: number): number =>
  (1 + (averaged - 1) / 2) / (rateHz * timeToBreakS)

function samplingChecks(rig: RigExpectation): RigCheck[] {
  const seconds = timeToBreak(rig)
  if (rig.rateHz === null || seconds === null) return []
  // A share of the peak each second: the peak itself cancels.
  const needed = lowestRateHz(1 / seconds, 1, rig.accuracyPct)
  const fast = rig.rateHz >= needed
  const lost = worstUnderRead(seconds, rig.rateHz, rig.averaged)
  const small = lost * 100 <= rig.accuracyPct
  const averaging = rig.averaged > 1 ? ` with the averaging of ${rig.averaged} readings` : ''
  return [
    {
      check: 'sampling',
      ok: fast,
      text: fast
        ? `${threeDigits(rig.rateHz)} readings a second are enough: ${threeDigits(needed)} would do for ${threeDigits(rig.accuracyPct)} % (ISO 6892-1 annex A, in forces).`
        : `${threeDigits(rig.rateHz)} readings a second are too few: ${threeDigits(needed)} are needed for ${threeDigits(rig.accuracyPct)} % (ISO 6892-1 annex A, in forces). Pull more slowly (over ${threeDigits((seconds * needed) / rig.rateHz)} s) or sample faster.`,
    },
    {
      check: 'under-read',
      ok: small,
      text: `Between two readings${averaging} up to ${threeDigits(lost * 100)} % of the peak can go unseen; half of the growth is added back and the rest is counted as doubt.`,
    },
  ]
}

/** A part of a specimen that gives way with less than this share of the peak is hardly worth a word. */
const DROP_SHARE = 0.05

/** What the last check of the rig's health means for the pulls to come. */
function healthChecks({ health, expectedPeakN }: RigExpectation): RigCheck[] {
  if (health === null) return []
  const { day, leastDropN, waitMin } = health
  const checks: RigCheck[] = []
  if (leastDropN !== null) {
    const share = expectedPeakN !== null && expectedPeakN > 0 ? leastDropN / expectedPeakN : null
    const ofPeak = share === null ? '' : `, ${threeDigits(100 * share)} % of the peak expected`
    checks.push({
      check: 'least-drop',
      ok: share === null || share <= DROP_SHARE,
      text: `With this rig a drop under ${threeDigits(leastDropN)} N cannot be seen${ofPeak} (its check of ${day}).`,
    })
  }
  if (waitMin !== null && waitMin > 0)
    checks.push({
      check: 'warm-up',
      ok: false,
      text: `Switch the rig on ${minutesText(waitMin)} before the first pull: until then its zero moves (its check of ${day}).`,
    })
  return checks
}

const minutesText = (min: number): string => (min <= 1 ? 'a minute' : `${Math.ceil(min)} minutes`)

/** Re-grips to expect: the stroke is used up so often before the specimen breaks. */
export const regripsExpected = (extensionMm: number, strokeMm: number): number =>
  Math.max(0, Math.ceil(extensionMm / strokeMm) - 1)

function strokeCheck({ strokeMm, extensionMm }: RigExpectation): RigCheck[] {
  if (strokeMm === null || extensionMm === null || !(strokeMm > 0)) return []
  const regrips = regripsExpected(extensionMm, strokeMm)
  return [
    {
      check: 'stroke',
      ok: regrips === 0,
      text:
        regrips === 0
          ? `The stroke of ${threeDigits(strokeMm)} mm is enough for ${threeDigits(extensionMm)} mm of extension.`
          : `The stroke of ${threeDigits(strokeMm)} mm is less than the ${threeDigits(extensionMm)} mm of extension: expect ${regrips} re-grip${regrips === 1 ? '' : 's'} a specimen.`,
    },
  ]
}
