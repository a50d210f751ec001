import { type DriveSpec, makeDrive } from './drive.ts'
import type { Random } from './random.ts'
import { makePart, type PartSpec } from './specimen.ts'

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
  /** Presses the indicator's zero key. */
  | { readonly do: 'zero' }
  | { readonly do: 'start-log' }
  | { readonly do: 'end-log' }

type PullUntil =
  | { readonly what: 'part-gone'; readonly part: number }
  | { readonly what: 'force'; readonly forceN: number }
  | { readonly what: 'travel'; readonly mm: number }
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
  readonly fractures: readonly { readonly step: number; readonly part: number; readonly counted: boolean }[]
  readonly slips: readonly { readonly step: number; readonly lastStep: number }[]
  readonly zeros: readonly number[]
  readonly logs: readonly { readonly from: number; readonly to: number }[]
  readonly regrips: readonly { readonly from: number; readonly restFrom: number; readonly to: number }[]
}

const LONGEST_S = 120

/** Plays the acts at a fixed step, seen every `periodS`; tension and stretch are in balance at every step (no inertia of the grips). */
export function play(spec: BenchSpec, stepS: number, periodS: number, random: Random): Happening {
  const parts = spec.parts.map(p => makePart(p, random))
  const drive = makeDrive(spec.drive, random)
  const forces: number[] = []
  const aside: number[] = []
  const travel: number[] = []
  const backing: number[] = []
  const fractures: { step: number; part: number; counted: boolean }[] = []
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
    forces.push(forceN)
    aside.push(asideN - (parts[0]!.gone() ? spec.fallenWeightN : 0))
    travel.push(travelMm)
    backing.push(isBacking ? 1 : 0)
    for (let i = 0; i < parts.length; i++) {
      const part = parts[i]!
      if (part.settle(stretchMm, stepS) > 0)
        fractures.push({ step: forces.length - 1, part: i, counted: part.counted })
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
    driftN: drifting(spec, length, stepS, random),
    travelMm: Float64Array.from(travel),
    backing: Uint8Array.from(backing),
    fractures,
    slips,
    zeros,
    logs,
    regrips,
  }
}

/**
 * Short pushes on the grips: a hand (half a sine, under 0.4 s) or a knock (a ring that dies away), well apart, so
 * that none of them lasts as long as a pull. Each spans several outputs: what shows in one only is a glitch to anyone.
 */
function asidePushes(
  steps: number,
  stepS: number,
  periodS: number,
  knocks: number,
  random: Random,
): Float64Array {
  const pushes = new Float64Array(steps)
  let atS = random.between(0.1, 0.4)
  const spacingS = (steps * stepS) / (knocks + 1e-9)
  while (knocks > 0 && atS + 1.2 < steps * stepS) {
    const byHand = random.chance(0.6)
    const sizeN = random.between(1, 12) * (random.chance(0.5) ? 1 : -1)
    const lastsS = Math.max(
      byHand ? random.between(0.08, 0.38) : random.between(0.1, 0.3),
      (byHand ? 3.2 : 6) * periodS,
    )
    const from = Math.round(atS / stepS)
    const length = Math.round(lastsS / stepS)
    for (let i = 0; i < length && from + i < steps; i++) {
      const share = i / length
      pushes[from + i] = byHand
        ? sizeN * Math.sin(Math.PI * share)
        : sizeN * Math.sin(2 * Math.PI * 1.5 * share) * Math.exp(-3 * share)
    }
    atS += lastsS + 0.5 + random.wait(spacingS)
  }
  return pushes
}

function drifting(spec: BenchSpec, length: number, stepS: number, random: Random): Float64Array {
  const drift = new Float64Array(length)
  let walk = 0
  const perStep = spec.wanderN * Math.sqrt(stepS / 10) // the wander reached after ten seconds
  for (let i = 0; i < length; i++) {
    if (spec.wanderN > 0) walk += perStep * random.normal()
    drift[i] = spec.driftNPerS * i * stepS + walk
  }
  return drift
}
