import { type Line, lineStandardN } from '../signal/line.ts'
import { coursePriors } from './priors.ts'

/** A way that the force may have gone around a drop: the line before, a change of pace, the drop, the line after. */
export interface Course {
  /** Instant of the (first) break, in s, and how long after it the second. */
  tB: number
  apart: number
  /** How long before the break the pace changed, and the slope since, in N/s. */
  since: number
  slope: number
  /** Share of the fall in the first break; 1 where there is one only. */
  first: number
}

export interface CourseInput {
  readonly loadN: Float64Array
  /** Line through samples before those that the drop can have touched, and the last sample in it. */
  readonly base: Line
  readonly baseTo: number
  readonly after: Line
  /** First sample wholly after the drop. */
  readonly to: number
  /** Time stamps of samples `baseTo` to `to`. */
  readonly stamps: readonly number[]
  /** Time over which the converter averages, in s; 0: none. */
  readonly widthS: number
  readonly periodS: number
  /** Spread of the stamps about an even pace. */
  readonly jitterS: number
  readonly noiseN: number
  /** Standard deviation by which a ramp may have left its line at a time on the record's axis. */
  readonly bendN: (tS: number) => number
  /** Spacing of the instants of a change of pace that are tried, in s. */
  readonly gridS: number
  /** No drop but a corner: the force runs on from the one line into the other. */
  readonly corner: boolean
}

/**
 * The samples that a course gives, and how well they agree with those that were read. A long record asks it of some
 * million courses: all samples of a course are worked out by one call, into room that is filled anew for the next.
 */
export class CourseModel {
  private readonly lagS: number
  private readonly stamps: Float64Array
  private readonly slackN2: Float64Array
  /** What the converter shows at each stamp. */
  private readonly shownN: Float64Array
  private readonly input: CourseInput

  constructor(input: CourseInput) {
    this.input = input
    this.lagS = input.widthS / 2
    this.stamps = Float64Array.from(input.stamps)
    this.shownN = new Float64Array(input.stamps.length)
    this.slackN2 = Float64Array.from(
      input.stamps,
      t => lineStandardN(input.base, t, input.noiseN) ** 2 + input.bendN(t) ** 2,
    )
  }

  /** Both lines are read on the record's axis, where they lag behind the force by half of what is averaged. */
  baseN(t: number): number {
    const { base } = this.input
    return base.levelN + base.slopeNPerS * (t + this.lagS - base.atS)
  }

  afterN(t: number): number {
    const { after } = this.input
    return after.levelN + after.slopeNPerS * (t + this.lagS - after.atS)
  }

  /** Force just before the (first) break. */
  beforeN(c: Course): number {
    return this.baseN(c.tB - c.since) + c.slope * c.since
  }

  /** Works out what the converter shows at stamps 1 to `last`: the mean of the force over `widthS` up to each. */
  private show(c: Course, last: number): void {
    const { stamps, shownN, lagS } = this
    const { widthS, base, after } = this.input
    const { tB, slope } = c
    const turn = tB - c.since
    const beforeN = this.beforeN(c)
    const rest = c.first < 1 ? (1 - c.first) * (beforeN - this.afterN(tB)) : 0
    const second = tB + c.apart
    for (let k = 1; k <= last; k++) {
      const stamp = stamps[k]!
      if (widthS === 0) {
        if (stamp <= turn) shownN[k] = base.levelN + base.slopeNPerS * (stamp + lagS - base.atS)
        else if (stamp <= tB) shownN[k] = beforeN - slope * (tB - stamp)
        else
          shownN[k] =
            after.levelN + after.slopeNPerS * (stamp + lagS - after.atS) + (stamp < second ? rest : 0)
        continue
      }
      const start = stamp - widthS
      if (stamp <= turn) {
        shownN[k] = base.levelN + base.slopeNPerS * (stamp - base.atS)
        continue
      }
      if (start >= second) {
        shownN[k] = after.levelN + after.slopeNPerS * (stamp - after.atS)
        continue
      }
      let sum = 0
      if (start < turn)
        sum += (base.levelN + base.slopeNPerS * ((start + turn) / 2 + lagS - base.atS)) * (turn - start)
      const a = Math.max(start, turn)
      const b = Math.min(stamp, tB)
      if (b > a) sum += (beforeN - slope * (tB - (a + b) / 2)) * (b - a)
      const from = Math.max(start, tB)
      if (stamp > from)
        sum += (after.levelN + after.slopeNPerS * ((from + stamp) / 2 + lagS - after.atS)) * (stamp - from)
      const until = Math.min(stamp, second)
      if (until > from) sum += rest * (until - from)
      shownN[k] = sum / widthS
    }
  }

  /** How much more than was read the course shows in all; rises with the instant of the break. */
  private excessN(c: Course): number {
    const { loadN, baseTo, to, corner } = this.input
    if (corner) return this.beforeN(c) - this.afterN(c.tB)
    const { shownN } = this
    this.show(c, to - baseTo)
    let sum = 0
    for (let k = 1; k <= to - baseTo; k++) sum += shownN[k]! - loadN[baseTo + k]!
    return sum
  }

  /**
   * Moves the course to the instant at which it gives the samples' sum (at a corner: at which its lines meet), which
   * is right for averaging of any shape. False position with the Illinois step.
   */
  settle(c: Course, earliest: number, latest: number): void {
    let low = earliest
    let high = latest
    c.tB = low
    let atLow = this.excessN(c)
    c.tB = high
    let atHigh = this.excessN(c)
    if (atLow >= 0 || atHigh <= 0) {
      c.tB = atLow >= 0 ? low : high
      return
    }
    const near = 0.05 * this.input.noiseN
    let side = 0
    for (let k = 0; k < 12; k++) {
      c.tB = (low * atHigh - high * atLow) / (atHigh - atLow)
      const at = this.excessN(c)
      if (Math.abs(at) < near) return
      if (at > 0) {
        high = c.tB
        atHigh = at
        if (side > 0) atLow /= 2
        side = 1
      } else {
        low = c.tB
        atLow = at
        if (side < 0) atHigh /= 2
        side = -1
      }
    }
  }

  /**
   * The same where only the samples up to `from` tell: those that average nothing later than the first break lie on
   * the course, and those that do may lie anywhere down to the line after.
   */
  logLikelihoodBefore(c: Course, from: number): number {
    const { loadN, baseTo, noiseN, jitterS, base } = this.input
    const { stamps, shownN, slackN2 } = this
    const fallN = Math.max(noiseN, this.beforeN(c) - this.afterN(c.tB))
    const slope = Math.max(Math.abs(base.slopeNPerS), Math.abs(c.slope))
    this.show(c, from - baseTo)
    let log = 0
    for (let k = 1; k <= from - baseTo; k++) {
      if (stamps[k]! > c.tB) {
        log -= Math.log(fallN / noiseN / Math.sqrt(2 * Math.PI))
        continue
      }
      const off = loadN[baseTo + k]! - shownN[k]!
      const variance = noiseN * noiseN + slackN2[k]! + (slope * jitterS) ** 2
      log -= 0.5 * ((off * off) / variance + Math.log(variance / (noiseN * noiseN)))
    }
    return log
  }

  /** Logarithm of the likelihood of the samples between the two lines, up to a constant. */
  logLikelihood(c: Course): number {
    const { loadN, base, baseTo, to, widthS, periodS, jitterS, noiseN, gridS, corner } = this.input
    const { stamps, shownN, slackN2 } = this
    const fallN = corner ? Number.POSITIVE_INFINITY : this.beforeN(c) - this.afterN(c.tB)
    const fall2 = fallN * fallN
    const slope = Math.max(Math.abs(base.slopeNPerS), Math.abs(c.slope))
    const turn = c.since > 0 ? Math.abs(c.slope - base.slopeNPerS) : 0
    const noise2 = noiseN * noiseN
    const shape = widthS > 1.5 * periodS ? coursePriors.shapeBlur : 0
    const chain = c.first < 1 ? coursePriors.chainBlur : 0
    const blur2 = corner ? 0 : fall2 * ((jitterS / (widthS || periodS) + shape) ** 2 + chain ** 2)
    this.show(c, to - baseTo)
    let log = 0
    for (let k = 1; k <= to - baseTo; k++) {
      const stamp = stamps[k]!
      const off = loadN[baseTo + k]! - shownN[k]!
      const falling = stamp > c.tB && stamp - widthS < c.tB + c.apart
      // Between two courses of the grid lie others.
      const past = Math.max(0, stamp - (c.tB - c.since))
      const gap = turn * Math.min(past, gridS) * 0.29
      const pace = turn * 0.1 * Math.min(past, c.since)
      const variance =
        noise2 +
        Math.min(slackN2[k]!, fall2) +
        (slope * jitterS) ** 2 +
        gap * gap +
        pace * pace +
        (falling ? blur2 : 0)
      log -= 0.5 * ((off * off) / variance + Math.log(variance / noise2))
    }
    return log
  }
}
