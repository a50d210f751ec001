import { makeRigCheck, type RigCheckSpec } from '../../../src/capture/pretend/index.ts'
import type { Health, HealthCode } from '../../../src/core/health/document.ts'
import { judgeHealth } from '../../../src/core/health/judgeHealth.ts'

/** A trouble of known size that a pretend rig can be given, and how its finding must look. */
export interface Ailment {
  readonly code: HealthCode
  readonly give: (spec: RigCheckSpec) => RigCheckSpec
  /** The true size, in the finding's unit; `null` where the finding's size says no more than that it is there. */
  readonly size: (spec: RigCheckSpec, logs: ReturnType<typeof makeRigCheck>['logs']) => number | null
  /** Findings that rightly come along with it. */
  readonly mayShow?: readonly HealthCode[]
  /** Troubles that cannot be told beside it, with the reason. */
  readonly hides?: readonly HealthCode[]
}

const converter =
  (change: (c: RigCheckSpec['converter']) => Partial<RigCheckSpec['converter']>) => (spec: RigCheckSpec) => ({
    ...spec,
    converter: { ...spec.converter, ...change(spec.converter) },
  })
const trouble = (of: (spec: RigCheckSpec) => Partial<RigCheckSpec['troubles']>) => (spec: RigCheckSpec) => {
  const { glitches, ...more } = of(spec)
  return {
    ...spec,
    troubles: {
      ...spec.troubles,
      ...more,
      ...(glitches ? { glitches: { ...spec.troubles.glitches, ...glitches } } : {}),
    },
  }
}
/** Readings that came out so, in per cent of those of the records that glitches are looked for in. */
const shareOf =
  (cause: string): Ailment['size'] =>
  (_, logs) => {
    const looked = logs.filter(l => l.step !== 'taps')
    const readings = looked.reduce((n, l) => n + l.recording.timeS.length, 0)
    return (
      (100 * looked.reduce((n, l) => n + l.truth.glitches.filter(g => g.cause === cause).length, 0)) /
      readings
    )
  }
const glitch = (
  code: HealthCode,
  cause: 'doubled' | 'halved' | 'ones' | 'channel' | 'zero',
  share: number,
): Ailment => ({
  code,
  give: trouble(() => ({ glitches: { [cause]: share } })),
  size: shareOf(cause),
})

export const ASKED_HZ = 80
export const STUCK_READINGS = 60

export const ailments: Record<string, Ailment> = {
  rate: {
    code: 'rate',
    give: converter(() => ({ rateHz: 10.6 })),
    size: spec => spec.converter.rateHz / (spec.troubles.eachTimes ?? 1),
  },
  jitter: {
    code: 'jitter',
    give: converter(() => ({ jitter: 0.16 })),
    size: spec => (1000 * Math.SQRT2 * spec.converter.jitter) / spec.converter.rateHz,
  },
  lost: {
    code: 'lost',
    give: trouble(() => ({ lostShare: 0.015 })),
    size: (_, logs) => {
      const lost = logs.reduce((n, l) => n + l.truth.lost, 0)
      return (100 * lost) / (lost + logs.reduce((n, l) => n + l.recording.timeS.length, 0))
    },
  },
  holes: {
    code: 'lost',
    give: trouble(() => ({ holes: { everyS: 9.3, lastsS: 0.42 } })),
    size: (_, logs) => {
      const lost = logs.reduce((n, l) => n + l.truth.lost, 0)
      return (100 * lost) / (lost + logs.reduce((n, l) => n + l.recording.timeS.length, 0))
    },
  },
  repeated: {
    code: 'repeated',
    give: trouble(() => ({ repeatedShare: 0.04 })),
    size: (_, logs) => {
      const still = logs.filter(l => l.step === 'free' || l.step === 'mass')
      const repeated = still.reduce((n, l) => n + l.truth.repeated, 0)
      return (100 * repeated) / still.reduce((n, l) => n + l.recording.timeS.length, 0)
    },
  },
  'each-four': {
    code: 'repeated',
    give: trouble(() => ({ eachTimes: 4 })),
    size: () => 75,
    mayShow: ['rate'],
    // Four lines are one reading of the chip: what settles within them settles at once.
    hides: ['averaging'],
  },
  noise: {
    code: 'noise',
    give: spec => converter(() => ({ noiseN: 0.02 * spec.massN }))(spec),
    size: spec => spec.converter.noiseN,
  },
  doubled: glitch('glitch-doubled', 'doubled', 0.013),
  halved: glitch('glitch-halved', 'halved', 0.008),
  ones: glitch('glitch-ones', 'ones', 0.006),
  channel: glitch('glitch-channel', 'channel', 0.01),
  hum50: {
    code: 'hum',
    give: trouble(spec => ({ hum: { hz: 50.02, amplitudeN: 1.5 * spec.converter.noiseN } })),
    size: spec => spec.troubles.hum!.amplitudeN,
  },
  hum60: {
    code: 'hum',
    give: trouble(spec => ({ hum: { hz: 59.97, amplitudeN: 3 * spec.converter.noiseN } })),
    size: spec => spec.troubles.hum!.amplitudeN,
  },
  averaging: {
    code: 'averaging',
    give: converter(() => ({ passes: [4] })),
    size: () => 4,
  },
  'device-mean': {
    code: 'averaging',
    give: trouble(() => ({ deviceMean: 8 })),
    size: () => 8,
    // A mean of eight takes noise and hum out.
    hides: ['noise', 'hum'],
  },
  drift: {
    code: 'drift',
    give: trouble(spec => ({ driftNPerMin: 6 * spec.converter.noiseN })),
    size: spec => spec.troubles.driftNPerMin!,
  },
  'warm-up': {
    code: 'warm-up',
    give: trouble(() => ({ warmUp: { changeN: 0.6, tauS: 22 } })),
    size: () => (60 * 0.6) / 22,
  },
  stuck: {
    code: 'stuck',
    give: trouble(() => ({ stuck: { times: 1, readings: STUCK_READINGS } })),
    size: spec => (STUCK_READINGS - 1) / spec.converter.rateHz,
  },
  saturated: {
    code: 'saturated',
    give: spec => converter(() => ({ limitN: 0.7 * spec.pullN }))(spec),
    size: () => null,
  },
  creep: {
    code: 'creep',
    give: trouble(() => ({ creep: { share: 0.012, tauS: 18 } })),
    size: spec => {
      const { share, tauS } = spec.troubles.creep!
      return 100 * share * (Math.exp(-5 / tauS) - Math.exp(-(spec.hungS - 1) / tauS))
    },
  },
  sign: {
    code: 'sign',
    give: trouble(() => ({ isTurned: true })),
    size: spec => -spec.massN,
    hides: ['saturated'],
  },
  backlash: {
    code: 'backlash',
    give: spec => ({ ...spec, backlashMm: 0.4 }),
    size: () => 0.4,
  },
}

export const optionsFor = (massN: number) => ({
  askedRateHz: ASKED_HZ,
  massN,
  forceText: (forceN: number) => `${forceN.toFixed(4)} N`,
  unit: 'N',
  perUnit: 1,
})

/** A pretend rig with these troubles, and what is found of it. */
export function checkRig(seed: number, given: readonly Ailment[]) {
  const { spec, logs } = makeRigCheck(seed, chosen => given.reduce((s, a) => a.give(s), chosen))
  const health = judgeHealth(logs, optionsFor(spec.massN))
  if (!health.ok) throw new Error(health.problems[0]!.what)
  return { spec, logs, health: health.value }
}

/** Whether each was named with its size within 20 %, and what was named that was not given. */
export function scoreOf({ spec, logs, health }: ReturnType<typeof checkRig>, given: readonly Ailment[]) {
  const allowed = new Set(given.flatMap(a => [a.code, ...(a.mayShow ?? [])]))
  return {
    named: given.map(a => health.findings.some((f: Health['findings'][number]) => f.code === a.code)),
    sized: given.map(a => {
      const found = health.findings.find(f => f.code === a.code)
      const size = a.size(spec, logs)
      return found === undefined || size === null || Math.abs(found.size / size - 1) <= 0.2
    }),
    invented: health.findings.map(f => f.code).filter(code => !allowed.has(code)),
  }
}
