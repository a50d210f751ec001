import { makeRigCheck, type RigCheckSpec } from '../../../src/capture/pretend/index.ts'
import { seeded, wordOf } from '../../../src/capture/pretend/random.ts'
import type { Health, HealthCode } from '../../../src/core/health/document.ts'
import { showsZeroN } from '../../../src/core/health/glitchKinds.ts'
import { judgeHealth } from '../../../src/core/health/judgeHealth.ts'
import { chanceEqual, leastRepeats } from '../../../src/core/health/repeats.ts'
import type { HealthOptions } from '../../../src/core/health/types.ts'

/** A trouble of known size that a pretend rig can be given, and how its finding must look. */
export interface Ailment {
  readonly code: HealthCode
  /** `times`: how many times its usual size. */
  readonly give: (spec: RigCheckSpec, times: number) => RigCheckSpec
  /** Least and greatest such factor at which it is to be found. */
  readonly from: number
  readonly to: number
  /** The true size, in the finding's unit; `null` where the finding's size says no more than that it is there. */
  readonly size: (spec: RigCheckSpec, logs: ReturnType<typeof makeRigCheck>['logs']) => number | null
  /** Findings that rightly come along with it. */
  readonly mayShow?: readonly HealthCode[]
  /** Troubles that cannot be told beside it, with the reason. */
  readonly hides?: readonly HealthCode[]
  /** Slowest converter that can show it. */
  readonly leastHz?: number
}

const converter =
  (change: (spec: RigCheckSpec, times: number) => Partial<RigCheckSpec['converter']>): Ailment['give'] =>
  (spec, times) => ({ ...spec, converter: { ...spec.converter, ...change(spec, times) } })
const trouble =
  (of: (spec: RigCheckSpec, times: number) => Partial<RigCheckSpec['troubles']>): Ailment['give'] =>
  (spec, times) => {
    const { glitches, ...more } = of(spec, times)
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
  from: 0.3,
  to: 3,
  give: trouble((_, times) => ({ glitches: { [cause]: share * times } })),
  size: shareOf(cause),
})
/** A zero is seen under load only: per cent of the readings under load. */
const shareOfZeros: Ailment['size'] = ({ converter: { noiseN, quantum } }, logs) => {
  const loadedFromN = showsZeroN({ noiseN, stepN: quantum })
  let loaded = 0
  let zeros = 0
  for (const { step, recording, truth } of logs) {
    if (step === 'taps') continue
    const at = new Set(truth.glitches.map(g => g.t))
    recording.timeS.forEach((t, i) => {
      const beside = recording.forceN.slice(Math.max(0, i - 3), i + 4).sort()
      if (Math.abs(beside[beside.length >> 1]!) <= loadedFromN) return
      loaded++
      if (at.has(t) && recording.forceN[i] === 0) zeros++
    })
  }
  return (100 * zeros) / loaded
}
const lostShare: Ailment['size'] = (_, logs) => {
  const lost = logs.reduce((n, l) => n + l.truth.lost, 0)
  return (100 * lost) / (lost + logs.reduce((n, l) => n + l.recording.timeS.length, 0))
}

/** What the standing converter is set to; a slower one is set so by `rigOf`. */
export const ASKED_HZ = 80
export const STUCK_READINGS = 60

export const ailments: Record<string, Ailment> = {
  rate: {
    code: 'rate',
    from: 1,
    to: 5,
    give: converter(({ converter: { rateHz } }, times) => ({ rateHz: Math.max(8, (rateHz / 7.5) * times) })),
    size: spec => spec.converter.rateHz / (spec.troubles.eachTimes ?? 1),
  },
  jitter: {
    code: 'jitter',
    from: 0.7,
    to: 1.4,
    give: converter((_, times) => ({ jitter: 0.16 * times })),
    size: spec => (1000 * Math.SQRT2 * spec.converter.jitter) / spec.converter.rateHz,
  },
  lost: {
    code: 'lost',
    from: 0.3,
    to: 4,
    give: trouble((_, times) => ({ lostShare: 0.015 * times })),
    size: lostShare,
  },
  holes: {
    code: 'lost',
    from: 0.7,
    to: 3,
    give: trouble((_, times) => ({ holes: { everyS: 9.3, lastsS: 0.42 * times } })),
    size: lostShare,
  },
  repeated: {
    code: 'repeated',
    from: 0.5,
    to: 4,
    give: trouble(({ converter: { rateHz, noiseN, quantum }, freeS, hungS }, times) => {
      // Where chance makes as many on a coarse display, fewer cannot be told, nor their number to a fifth.
      const pairs = rateHz * (freeS + hungS)
      const told = leastRepeats(pairs * chanceEqual(noiseN, quantum)) / pairs
      return { repeatedShare: Math.max(0.04 * times, 2.2 * told) }
    }),
    size: (_, logs) => {
      const still = logs.filter(l => l.step === 'free' || l.step === 'mass')
      const repeated = still.reduce((n, l) => n + l.truth.repeated, 0)
      return (100 * repeated) / still.reduce((n, l) => n + l.recording.timeS.length, 0)
    },
  },
  'each-several': {
    code: 'repeated',
    from: 0.5,
    to: 2,
    give: trouble((_, times) => ({ eachTimes: Math.round(4 * times) })),
    size: ({ troubles: { eachTimes } }) => 100 - 100 / eachTimes!,
    mayShow: ['rate'],
    // Four lines are one reading of the chip: what settles within them settles at once. So few of them fold a hum to
    // anywhere, even to no swing at all.
    hides: ['averaging', 'hum'],
  },
  noise: {
    code: 'noise',
    from: 0.7,
    to: 2,
    give: converter(({ massN }, times) => ({ noiseN: 0.02 * massN * times })),
    size: spec => spec.converter.noiseN,
  },
  doubled: glitch('glitch-doubled', 'doubled', 0.013),
  halved: glitch('glitch-halved', 'halved', 0.008),
  ones: glitch('glitch-ones', 'ones', 0.006),
  channel: glitch('glitch-channel', 'channel', 0.01),
  zero: { ...glitch('glitch-other', 'zero', 0.008), size: shareOfZeros },
  hum50: {
    code: 'hum',
    from: 0.4,
    to: 3,
    leastHz: 35,
    give: trouble((spec, times) => ({ hum: { hz: 50.02, amplitudeN: 1.5 * spec.converter.noiseN * times } })),
    size: spec => spec.troubles.hum!.amplitudeN,
  },
  hum60: {
    code: 'hum',
    from: 0.2,
    to: 2,
    leastHz: 35,
    give: trouble((spec, times) => ({ hum: { hz: 59.97, amplitudeN: 3 * spec.converter.noiseN * times } })),
    size: spec => spec.troubles.hum!.amplitudeN,
  },
  averaging: {
    code: 'averaging',
    // A mean of two looks like none.
    from: 0.75,
    to: 2,
    give: converter((_, times) => ({ passes: [Math.round(4 * times)] })),
    size: spec => spec.converter.passes[0]!,
  },
  'device-mean': {
    code: 'averaging',
    from: 0.5,
    to: 1.5,
    give: trouble((_, times) => ({ deviceMean: Math.round(8 * times) })),
    size: spec => spec.troubles.deviceMean!,
    // A mean of eight takes noise and hum out, and neighbours are then equal on most displays.
    hides: ['noise', 'hum', 'repeated'],
  },
  drift: {
    code: 'drift',
    from: 0.4,
    to: 3,
    give: trouble((spec, times) => ({ driftNPerMin: 6 * spec.converter.noiseN * times })),
    size: spec => spec.troubles.driftNPerMin!,
  },
  'warm-up': {
    code: 'warm-up',
    from: 0.5,
    to: 3,
    give: trouble((spec, times) => ({
      warmUp: { changeN: 27 * spec.converter.noiseN * times, tauS: 22 },
    })),
    size: spec => (60 * spec.troubles.warmUp!.changeN) / spec.troubles.warmUp!.tauS,
  },
  stuck: {
    code: 'stuck',
    from: 0.5,
    to: 3,
    give: trouble((_, times) => ({ stuck: { times: 1, readings: Math.round(STUCK_READINGS * times) } })),
    size: ({ troubles, converter: { rateHz } }) => (troubles.stuck!.readings - 1) / rateHz,
  },
  saturated: {
    code: 'saturated',
    from: 0.75,
    to: 1.3,
    give: converter(({ pullN }, times) => ({ limitN: 0.7 * pullN * times })),
    size: () => null,
  },
  creep: {
    code: 'creep',
    from: 0.4,
    to: 3,
    give: trouble((_, times) => ({ creep: { share: 0.012 * times, tauS: 18 } })),
    size: spec => {
      const { share, tauS } = spec.troubles.creep!
      return 100 * share * (Math.exp(-5 / tauS) - Math.exp(-(spec.hungS - 1) / tauS))
    },
  },
  sign: {
    code: 'sign',
    from: 1,
    to: 1,
    give: trouble(() => ({ isTurned: true })),
    size: spec => -spec.massN,
    hides: ['saturated'],
  },
  backlash: {
    code: 'backlash',
    from: 0.5,
    to: 3,
    give: (spec, times) => ({ ...spec, backlashMm: 0.4 * times }),
    size: spec => spec.backlashMm,
  },
}

export const optionsFor = (massN: number, askedRateHz: number = ASKED_HZ) => ({
  askedRateHz,
  massN,
  forceText: (forceN: number) => `${forceN.toFixed(4)} N`,
  unit: 'N',
  perUnit: 1,
})

/** A pretend rig with these troubles in their usual sizes, and what is found of it. */
export function checkRig(seed: number, given: readonly Ailment[]) {
  const { spec, logs } = makeRigCheck(seed, chosen => given.reduce((s, a) => a.give(s, 1), chosen))
  return { spec, logs, health: judged(logs, optionsFor(spec.massN)) }
}

/** Rates that converters are set to. */
const RATES_HZ = [10, 40, 80, 80, 80, 160] as const

/**
 * The same on a rig of which everything is drawn: rate, noise, display step, mass, and each trouble between the least and
 * the greatest size that it is to be found at. `null` where a converter so slow cannot show one of them.
 */
export function checkAnyRig(seed: number, given: readonly Ailment[]) {
  const random = seeded((wordOf('any rig') + Math.imul(seed, 0x9e3779b1)) >>> 0)
  const askedHz = random.pick(RATES_HZ)
  if (given.some(a => askedHz < (a.leastHz ?? 0))) return null
  const { spec, logs } = makeRigCheck(seed, chosen => {
    const noiseN = chosen.massN * random.between(0.0003, 0.003)
    const rig = {
      ...chosen,
      converter: {
        ...chosen.converter,
        rateHz: askedHz * random.between(0.94, 1.06),
        noiseN,
        quantum: noiseN * random.pick([0.01, 0.05, 0.2, 0.5, 1]),
      },
    }
    return given.reduce((s, a) => a.give(s, a.from * (a.to / a.from) ** random.next()), rig)
  })
  return { spec, logs, health: judged(logs, optionsFor(spec.massN, askedHz)) }
}

function judged(logs: ReturnType<typeof makeRigCheck>['logs'], options: HealthOptions): Health {
  const health = judgeHealth(logs, options)
  if (!health.ok) throw new Error(health.problems[0]!.what)
  return health.value
}

/** Whether both can be told beside each other. */
export const areTold = (a: Ailment, b: Ailment): boolean =>
  a.code !== b.code && a.hides?.includes(b.code) !== true && b.hides?.includes(a.code) !== true

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
