import { fine, type Outcome, wrong } from '../problem.ts'
import { median } from '../signal/order.ts'
import type { Health, HealthCode } from './document.ts'
import { type Figures, figuresOf } from './figures.ts'
import { type Detector, glitches, jitter, lost, rate, repeated, saturated, stuck } from './findings.ts'
import { type GlitchGroup, sortGlitches } from './glitchKinds.ts'
import { lookAt, recordNoise, type Seen, usualRepeats } from './look.ts'
import { averaging, backlash, hum, noise } from './noiseFindings.ts'
import { notKnown } from './notKnown.ts'
import { LEAST_ALIKE } from './patterned.ts'
import { creep, drift, movedZero, sign, untared } from './slowFindings.ts'
import type { Found, HealthOptions, HealthRecord } from './types.ts'

const DETECTORS: readonly Detector[] = [
  saturated,
  sign,
  rate,
  jitter,
  lost,
  repeated,
  stuck,
  noise,
  hum,
  averaging,
  drift,
  creep,
  glitches,
  backlash,
  untared,
]

/** What makes every force wrong comes before anything that only widens its doubt. */
const FIRST: readonly HealthCode[] = ['saturated', 'sign']

const LEAST_READINGS = 20

/**
 * What is wrong with a rig, what it costs on a peak force, and what to do: from a minute hanging free, a
 * minute under a known mass, three taps and a slow pull by hand, any of which may be left out, and from the
 * rests of ordinary records.
 */
export function judgeHealth(records: readonly HealthRecord[], options: HealthOptions): Outcome<Health> {
  const told = records.filter(r => r.recording.forceN.length >= LEAST_READINGS)
  if (told.length === 0) {
    return wrong({
      where: records[0]?.recording.name ?? 'the check',
      what: `there are fewer than ${LEAST_READINGS} readings.`,
      cure: 'Let the rig hang free for a minute while it is recorded.',
    })
  }
  const seen = lookAtAll(told)
  const figures = figuresOf(seen, options)
  const found = DETECTORS.flatMap(detector => detector(seen, figures, options))
  return fine({
    document: 'tenterhook.health',
    version: 1,
    findings: [...found]
      .sort((a, b) => gravity(b) - gravity(a))
      .map(f => ({ ...f, evidence: [...f.evidence] })),
    healthy: found.length === 0,
    rateHz: figures.rateHz,
    noise: figures.noiseN,
    bits: figures.bits,
    stepN: figures.stepN,
    forceUnit: seen[0]!.recording.forceUnit,
    settlingReadings: settlingReadings(figures),
    wild: wildPatterns(seen),
    stiffnessNPerMm: figures.hand?.stiffnessNPerMm ?? null,
    loadingNPerS: figures.hand?.loadingNPerS ?? null,
    leastDropN: leastDropN(figures),
    waitMin: movedZero(seen, figures, options).waitMin,
    records: told.map(({ recording, step }) => ({ name: recording.name, step, sha256: recording.sha256 })),
    notKnown: notKnown(
      seen,
      records.filter(r => !told.includes(r)),
      figures,
      options,
    ),
  })
}

/**
 * Looks all records through; once more with what their glitches read, where they have some that follow a
 * pattern.
 */
function lookAtAll(told: readonly HealthRecord[]): Seen[] {
  const noiseN = told.length > 1 ? (median(told.map(r => recordNoise(r.recording))) ?? 0) : 0
  const usual = Math.max(...told.map(r => usualRepeats(r.recording)))
  const lookWith = (reads: GlitchGroup['reads']): Seen[] =>
    told.map((record, i) => lookAt(record, i, { noiseN, usual, reads }))
  const first = lookWith([])
  const reads = kindsIn(first).flatMap(kind => kind.reads)
  return reads.length === 0 ? first : lookWith(reads)
}

const kindsIn = (seen: readonly Seen[]): GlitchGroup[] =>
  sortGlitches(
    seen.flatMap(r => r.glitches),
    {
      noiseN: median(seen.map(r => r.roughNoiseN)) ?? 0,
      stepN: median(seen.map(r => r.stepN)) ?? 0,
      inCounts: seen.some(r => r.recording.forceUnit === 'counts'),
    },
  )

/** By the taps and by the noise, of which a coarse display hides either. */
const settlingReadings = ({ settled, averaged }: Figures): number | null =>
  settled === null && averaged === null ? null : Math.max(settled?.readings ?? 0, averaged ?? 0)

/** Patterns that are sure enough to be told to other records. */
const wildPatterns = (seen: readonly Seen[]): Health['wild'] =>
  kindsIn(seen)
    .filter(kind => kind.glitches.length >= LEAST_ALIKE)
    .flatMap(kind => kind.reads.map(read => ({ ...read })))

/**
 * Order of the findings: those that make forces wrong, then by cost, then those whose cost the records do
 * not tell.
 */
const gravity = ({ code, costN }: Found): number =>
  FIRST.includes(code) ? Number.MAX_VALUE : (costN ?? Number.MIN_VALUE)

/** A drop is seen from 6 noise sd on, beyond the hum on both sides, and from two steps of the display on. */
function leastDropN({ noiseN, hum: found, stepN }: Figures): number | null {
  // Where nothing moves at all, neither noise nor display step is known.
  if (noiseN === null || (noiseN === 0 && stepN === 0)) return null
  return Math.max(6 * noiseN + 2 * (found?.amplitudeN ?? 0), 2 * stepN)
}
