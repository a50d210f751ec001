import { threeDigits } from '../units/showForce.ts'
import type { Figures } from './figures.ts'
import type { Detector } from './findings.ts'
import { evidenceIn, type Seen } from './look.ts'
import type { HealthOptions } from './types.ts'

/**
 * Noise that is no fault: as a share of the load and of the capacity, and in counts of a 24-bit converter.
 */
const LOAD_SHARE = 0.01
/** In an ordinary record more of it may be the specimen’s and the hand’s own. */
const PULL_SHARE = 0.02
const CAPACITY_SHARE = 0.001
/**
 * The usual converter shows some 40 counts at 80 readings a second (its data sheet, from memory); five
 * times that is wiring.
 */
const MOST_COUNTS = 200
/** A hum counts from this share of the noise on. */
const HUM_SHARE = 0.25
/** A converter that needs fewer readings than this settles at once, as far as a rig can tell. */
const LEAST_SETTLING = 1.6

const atRest = (records: readonly Seen[]) =>
  records
    .filter(r => r.stretches.length > 0)
    .map(r =>
      evidenceIn(
        r.index,
        [],
        r.stretches.map(s => ({ fromS: r.recording.timeS[s.from]!, toS: r.recording.timeS[s.to - 1]! })),
      ),
    )

function noiseLimitN(
  { loadN, inCounts }: Figures,
  { withinN, capacityN }: HealthOptions,
  isChecked: boolean,
): number | null {
  if (withinN !== undefined) return withinN / 2
  if (inCounts) return MOST_COUNTS
  if (capacityN !== undefined) return CAPACITY_SHARE * capacityN
  return loadN === null ? null : (isChecked ? LOAD_SHARE : PULL_SHARE) * loadN
}

export const noise: Detector = (records, figures, options) => {
  const { noiseN, bits } = figures
  const limit = noiseLimitN(
    figures,
    options,
    records.some(r => r.step !== 'ordinary'),
  )
  if (noiseN === null || limit === null || !(noiseN > limit)) return []
  return [
    {
      code: 'noise',
      size: noiseN / options.perUnit,
      unit: options.unit,
      costN: 2 * noiseN,
      text: `The reading scatters by ${options.forceText(noiseN)} (standard deviation) at rest${bits === null ? '' : `: ${threeDigits(bits)} of 24 bits are left`}.`,
      cure: 'Twist and shield the cell’s wires, feed cell and converter from a quiet supply, keep motors and phone chargers away; a slower rate halves the noise.',
      evidence: atRest(records),
    },
  ]
}

export const hum: Detector = (records, figures, options) => {
  const { hum: found, noiseN } = figures
  if (found === null || !(found.amplitudeN > HUM_SHARE * (noiseN ?? 0))) return []
  const mains =
    found.mainsHz === null
      ? 'the mains (50 or 60 Hz: at this rate they look alike)'
      : `the mains of ${found.mainsHz} Hz`
  return [
    {
      code: 'hum',
      size: found.amplitudeN / options.perUnit,
      unit: options.unit,
      costN: found.amplitudeN,
      text: `A hum of ±${options.forceText(found.amplitudeN)} from ${mains}; in these readings it looks like a swing of ${threeDigits(found.seenHz)} Hz.`,
      cure: 'Run the computer on its battery or the converter on one, twist and shield the cell’s wires, ground the frame in one point; at 10 readings a second the converter takes most of it out.',
      evidence: atRest(records),
    },
  ]
}

export const averaging: Detector = (records, figures) => {
  const { settled, averaged, rateHz, hand } = figures
  const readings = Math.max(settled?.readings ?? 0, averaged ?? 0)
  if (!(readings >= LEAST_SETTLING)) return []
  const taps = records.filter(r => r.step === 'taps')
  const lastsS = rateHz === null ? null : readings / rateHz
  const speed = hand?.loadingNPerS ?? null
  return [
    {
      code: 'averaging',
      size: readings,
      unit: 'readings',
      costN: lastsS === null || speed === null ? null : (speed * lastsS) / 2,
      text: `A sudden change takes ${threeDigits(readings)} readings to arrive${lastsS === null ? '' : ` (${threeDigits(lastsS)} s)`}: of a sudden break the top is cut by what the force gained in half of that.`,
      cure: 'Switch off averaging or smoothing in the device and its library; keep the converter at its fast rate and do not change its channel between readings.',
      evidence:
        settled !== null && taps[0] !== undefined
          ? [
              evidenceIn(
                taps[0].index,
                settled.at.map(i => taps[0]!.recording.timeS[i]!),
              ),
            ]
          : atRest(records),
    },
  ]
}

/** Backlash counts from here on, in mm, and from so many standard errors. */
const LEAST_BACKLASH_MM = 0.05

export const backlash: Detector = (records, figures) => {
  const { hand } = figures
  const pull = records.find(r => r.step === 'pull')
  if (hand?.backlashMm == null || pull === undefined) return []
  if (!(hand.backlashMm > Math.max(LEAST_BACKLASH_MM, 4 * hand.backlashStandardMm))) return []
  return [
    {
      code: 'backlash',
      size: hand.backlashMm,
      unit: 'mm',
      costN: 0,
      text: `When the drive turns back, its first ${threeDigits(hand.backlashMm)} mm move nothing. Forces lose nothing by it, extensions do.`,
      cure: 'Take up the slack in one direction before every pull, and take no extension from a way back.',
      evidence: [evidenceIn(pull.index, [])],
    },
  ]
}
