import { type DriveSpec, makeDrive } from './drive.ts'
import { asidePushes } from './pushes.ts'
import { type Random, seeded, wordOf } from './random.ts'
import { makePart, type PartSpec } from './specimen.ts'
import { makeTexture, type TextureSpec } from './texture.ts'

/** The rig with a specimen in it, and what the operator does with it, in order. */
export interface BenchSpec {
  /** Everything in series with the specimen, as one spring. */
  readonly rigStiffnessNPerMm: number
  readonly drive: DriveSpec
  readonly parts: readonly PartSpec[]
  /** Forces, in newton, at which a grip slips once, each by the share of the force that it then loses. */
  readonly slips: readonly { readonly atN: number; readonly share: number }[]
  readonly acts: readonly Act[]
  /** Weight, in newton, that is off the cell once the specimen is in two. */
  readonly fallenWeightN: number
  /** Zero of the cell: a steady creep and a wander, newton a second and newton. */
  readonly driftNPerS: number
  readonly wanderN: number
  /** What the cell reads without load and before any zeroing, newton. */
  readonly offsetN: number
  /** How far the zero jumps when a part lets go, newton: the blow shifts the cell in its seat. */
  readonly jumpN: number
  readonly texture: TextureSpec | null
}

export type Act =
  /** Nothing moves. `knocks`: mean number of knocks or hands on the grips in it. */
  | { readonly do: 'wait'; readonly forS: number; readonly knocks?: number }
  /** Turns until the named thing happens, and `overrunS` longer. Gives up after two minutes. */
  | { readonly do: 'pull'; readonly until: PullUntil; readonly overrunS: number }
  /** Turns back until no load is left, and a little farther. */
  | { readonly do: 'back-off'; readonly speedMmPerS: number }
  /** Takes the specimen into the grips afresh with this much slack. */
  | { readonly do: 'regrip'; readonly forS: number; readonly slackMm: number; readonly knocks: number }
  /** Takes a fresh specimen of the same make into the grips, with this much slack. */
  | { readonly do: 'next-specimen'; readonly forS: number; readonly slackMm: number }
  /** Presses the indicator's zero key. */
  | { readonly do: 'zero' }
  | { readonly do: 'start-log' }
  | { readonly do: 'end-log' }

type PullUntil =
  | { readonly what: 'part-gone'; readonly part: number }
  | { readonly what: 'force'; readonly forceN: number }
  | { readonly what: 'travel'; readonly mm: number }
  /** Something let go in this pull, and the force has fallen to this share of the greatest. */
  | { readonly what: 'fallen'; readonly share: number }
  /** The share of the counted elements that has let go. */
  | { readonly what: 'broken-share'; readonly share: number }

/** What truly happened, step by step. Arrays have one value a step. */
export interface Happening {
  readonly stepS: number
  readonly forceN: Float64Array
  /** Hands, knocks and weights on the cell that are no tension in the specimen. */
  readonly asideN: Float64Array
  /** What the cell shows without any load. */
  readonly driftN: Float64Array
  readonly travelMm: Float64Array
  /** 1 where the operator turns back. */
  readonly backing: Uint8Array
  readonly fractures: readonly Fracture[]
  readonly slips: readonly { readonly step: number; readonly lastStep: number }[]
  readonly zeros: readonly number[]
  readonly logs: readonly { readonly from: number; readonly to: number }[]
  readonly regrips: readonly { readonly from: number; readonly restFrom: number; readonly to: number }[]
}

export interface Fracture {
  readonly step: number
  /** When the part was through; later than `step` where it tears, and that of the last step where the bench stops first. */
  readonly lastStep: number
  readonly part: number
  readonly counted: boolean
}

const LONGEST_S = 120

/** Plays the acts at a fixed step, seen every `periodS`; tension and stretch are in balance at every step (no inertia of the grips). */
export function play(spec: BenchSpec, stepS: number, periodS: number, random: Random): Happening {
  let parts = spec.parts.map(p => makePart(p, random))
  const drive = makeDrive(spec.drive, random)
  // A stream of its own, so that the other draws are the same with and without a texture.
  const texture = makeTexture(
    spec.texture,
    seeded(wordOf('texture') + Math.floor(1e9 * spec.drive.speedMmPerS)),
  )
  const forces: number[] = []
  const aside: number[] = []
  const travel: number[] = []
  const backing: number[] = []
  const fractures: { step: number; lastStep: number; part: number; counted: boolean }[] = []
  const slips: { step: number; lastStep: number }[] = []
  const zeros: number[] = []
  const logs: { from: number; to: number }[] = []
  const regrips: { from: number; restFrom: number; to: number }[] = []
  const counted = spec.parts.reduce((n, p) => n + (p.law === 'bundle' && p.counted ? p.elements : 0), 0)

  const K = spec.rigStiffnessNPerMm
  let travelMm = 0
  let gripMm = 0 // where the specimen's free length begins on the travel axis
  let stretchMm = 0
  let forceN = 0
  let greatestN = 0
  let fracturesBefore = 0
  const tearing = new Set<number>()
  let slipsDone = 0
  let slipLeftMm = 0
  let slipPerStepMm = 0
  let logFrom: number | null = null
  let backingFrom = 0

  /** Stretch at which the specimen's tension equals the rig's: Newton, then halving where the specimen softens. */
  const balance = (): void => {
    const openMm = travelMm - gripMm
    const pullOf = (u: number): number => {
      let sum = 0
      for (const p of parts) sum += p.forceN(u)
      return sum
    }
    let u = stretchMm
    for (let k = 0; k < 30; k++) {
      const off = pullOf(u) - K * (openMm - u)
      if (Math.abs(off) < 1e-7) break
      let slope = K
      for (const p of parts) slope += p.slopeNPerMm(u)
      const step = off / Math.max(slope, 0.2 * K)
      u -= step
      if (Math.abs(step) < 1e-10) break
    }
    stretchMm = u
    forceN = Math.max(0, pullOf(u))
  }

  const step = (byMm: number, asideN: number, isBacking: boolean): void => {
    travelMm += byMm
    if (slipLeftMm > 0) {
      gripMm += Math.min(slipPerStepMm, slipLeftMm)
      slipLeftMm -= slipPerStepMm
      if (slipLeftMm <= 0) slips[slips.length - 1]!.lastStep = forces.length
    }
    balance()
    greatestN = Math.max(greatestN, forceN)
    forces.push(forceN * texture(byMm, stepS))
    aside.push(asideN - (parts[0]!.gone() ? spec.fallenWeightN : 0))
    travel.push(travelMm)
    backing.push(isBacking ? 1 : 0)
    for (let i = 0; i < parts.length; i++) {
      const part = parts[i]!
      const now = forces.length - 1
      if (part.settle(stretchMm, stepS) > 0)
        fractures.push({ step: now, lastStep: now, part: i, counted: part.counted })
      else if (tearing.has(i)) fractures.findLast(f => f.part === i)!.lastStep = now
      if (part.tearing()) tearing.add(i)
      else tearing.delete(i)
    }
    const slip = spec.slips[slipsDone]
    if (slip && byMm > 0 && slipLeftMm <= 0 && forceN >= slip.atN) {
      slipsDone++
      let specimenSlope = 0
      for (const p of parts) specimenSlope += p.slopeNPerMm(stretchMm)
      slipLeftMm = (slip.share * forceN * (K + specimenSlope)) / (K * specimenSlope)
      slipPerStepMm = slipLeftMm / Math.max(1, random.between(0.001, 0.006) / stepS)
      slips.push({ step: forces.length - 1, lastStep: forces.length })
    }
  }

  const wait = (forS: number, knocks: number): void => {
    const steps = Math.round(forS / stepS)
    const pushes = asidePushes(steps, stepS, periodS, knocks, random)
    for (let i = 0; i < steps; i++) step(0, pushes[i]!, false)
  }

  const reached = (until: PullUntil, fromMm: number): boolean => {
    switch (until.what) {
      case 'part-gone':
        return parts[until.part]!.gone()
      case 'force':
        return forceN >= until.forceN
      case 'travel':
        return travelMm - fromMm >= until.mm
      case 'fallen':
        return fractures.length > fracturesBefore && forceN <= until.share * greatestN
      case 'broken-share':
        return fractures.filter(f => f.counted).length >= until.share * counted
    }
  }

  for (const act of spec.acts) {
    switch (act.do) {
      case 'wait':
        wait(act.forS, act.knocks ?? 0)
        break
      case 'pull': {
        drive.stop()
        const fromMm = travelMm
        greatestN = 0
        fracturesBefore = fractures.length
        const latest = forces.length + LONGEST_S / stepS
        while (!reached(act.until, fromMm) && forces.length < latest) step(drive.pull(stepS), 0, false)
        const overrun = Math.round(act.overrunS / stepS)
        for (let i = 0; i < overrun; i++) step(drive.pull(stepS), 0, false)
        break
      }
      case 'back-off': {
        backingFrom = forces.length
        let pace = 0
        let pastMm = 0
        while (pastMm < 0.6) {
          pace += ((act.speedMmPerS - pace) * stepS) / 0.1
          step(-pace * stepS, 0, true)
          if (forceN === 0) pastMm += pace * stepS
        }
        break
      }
      case 'regrip': {
        const restFrom = forces.length
        gripMm = travelMm + act.slackMm
        wait(act.forS, act.knocks)
        regrips.push({ from: Math.max(backingFrom, 0), restFrom, to: forces.length })
        break
      }
      case 'next-specimen':
        parts = spec.parts.map(p => makePart(p, random))
        gripMm = travelMm + act.slackMm
        stretchMm = 0
        wait(act.forS, 0)
        break
      case 'zero':
        zeros.push(forces.length)
        break
      case 'start-log':
        logFrom = forces.length
        break
      case 'end-log':
        if (logFrom !== null) logs.push({ from: logFrom, to: forces.length })
        logFrom = null
        break
    }
  }

  const length = forces.length
  return {
    stepS,
    forceN: Float64Array.from(forces),
    asideN: Float64Array.from(aside),
    driftN: drifting(spec, length, stepS, fractures, random),
    travelMm: Float64Array.from(travel),
    backing: Uint8Array.from(backing),
    fractures,
    slips,
    zeros,
    logs,
    regrips,
  }
}

function drifting(
  spec: BenchSpec,
  length: number,
  stepS: number,
  fractures: readonly Fracture[],
  random: Random,
): Float64Array {
  const drift = new Float64Array(length)
  let walk = 0
  const perStep = spec.wanderN * Math.sqrt(stepS / 10) // the wander reached after ten seconds
  for (let i = 0; i < length; i++) {
    if (spec.wanderN > 0) walk += perStep * random.normal()
    drift[i] = spec.offsetN + spec.driftNPerS * i * stepS + walk
  }
  if (spec.jumpN !== 0)
    for (const { step } of fractures) for (let i = step + 1; i < length; i++) drift[i]! += spec.jumpN
  return drift
}
