import { firstAfter, firstAtOrAfter } from '../../signal/search.ts'
import type { ZeroPriors } from '../priors.ts'
import type { Quiet } from '../quiet.ts'

/** What is known of one zero period: its quiet stretches, and the readings between them. */
export interface ZeroChainInput {
  readonly quiets: readonly Quiet[]
  /** Blocks of readings outside the quiet stretches, in order: time, lower readings, length. */
  readonly blocks: readonly LowBlock[]
  readonly startS: number
  readonly endS: number
  /** First and last sample of the period. */
  readonly first: number
  readonly last: number
  readonly firstN: number
  /** Greatest less least reading, glitches left out. */
  readonly rangeN: number
  readonly greatestN: number
  readonly noiseN: number
  readonly quantumN: number
  readonly priors: ZeroPriors
  /** How fast the force usually rises where it does. */
  readonly paceNPerS: number
}

export interface LowBlock {
  readonly atS: number
  readonly levelN: number
  readonly lastsS: number
}

/** Logarithms of the probabilities that the choices are made of. */
export class ChainCosts {
  private readonly resolutionN: number
  readonly marginN: number
  /** How much likelier a rest at a known level is than a held load there. */
  private readonly match: number
  /** Times of the blocks: each pair of stretches asks for those between. */
  private readonly blockS: Float64Array

  constructor(private readonly input: ZeroChainInput) {
    const { rangeN, noiseN, quantumN, priors } = input
    this.marginN = Math.max(5 * noiseN, 2.5 * quantumN, priors.tareSpread * rangeN)
    this.resolutionN = Math.max(3 * noiseN, 1.5 * quantumN, priors.resolution * rangeN, Number.MIN_VALUE)
    this.match = goesToAndFro(input, this.marginN) ? 1 : priors.match
    this.blockS = Float64Array.from(input.blocks, b => b.atS)
  }

  /** Of believing the indicator. */
  none(): number {
    const { priors, quiets, firstN, rangeN } = this.input
    const begun = Math.abs(firstN) > priors.begunLoaded * rangeN ? priors.startsLoaded : 1
    return (
      Math.log(priors.tared * priors.noRest * begun) +
      this.loads(0, quiets.length, () => 0) +
      this.lows(this.input.startS, this.input.endS, () => 0)
    )
  }

  /** Of the first rest's level, and of everything before it. */
  first(k: number): number {
    const { priors, rangeN, noiseN, quantumN, quiets, startS, firstN } = this.input
    const q = quiets[k]!
    const { levelN, fromS } = q
    const spread = Math.max(2 * noiseN, quantumN, priors.tareSpread * rangeN)
    const off = levelN / spread
    const atNought = Math.abs(firstN) < 0.02 * rangeN
    // Slightly above nought and short is likelier a specimen that is held taut than an empty cell that is off.
    const taut = this.isTaut(q) ? priors.preload : 0
    const known = 1 + (this.match - 1) * this.shareOfRest(q)
    const tared = ((1 - taut) * priors.tared * known) / (1 + (off * off) / 2) ** 2
    const elsewhere = atNought && Math.abs(levelN) > 0.02 * rangeN ? priors.startsAtNought : 1
    const untared = (priors.untared * elsewhere) / 3
    const start = quiets[0]!
    const heldAtNought = k > 0 && this.beginsWith(start) && Math.abs(start.levelN) < spread
    const underLoad =
      levelN < 0 && atNought
        ? priors.taredUnderLoad * (heldAtNought ? 1 + (this.match - 1) * this.mayBeTaut(start) : 1)
        : 0
    const line = (): number => levelN
    return (
      Math.log((1 - priors.noRest) * (tared + (untared + underLoad) * this.witness(q))) -
      this.climbs(q) +
      this.loads(0, k, line) +
      this.lows(startS, fromS, line)
    )
  }

  /** Of the zero's way from one rest to the next, and of everything between. */
  between(j: number, k: number): number {
    const { priors, quiets, rangeN } = this.input
    const a = quiets[j]!
    const b = quiets[k]!
    const gapS = Math.max(0, b.fromS - a.toS)
    const spread = Math.hypot(
      Math.max(this.resolutionN, priors.stepSpread * rangeN),
      priors.driftSpread * rangeN * Math.sqrt(gapS),
    )
    const off = unexplainedN(a, b) / spread
    const back = this.loadedBetween(a, b) ? this.match : 1
    // A level near the one before, with loading between the two, is likelier a rest than a load held there by chance.
    const known = 1 + (back - 1) * this.shareOfRest(b)
    const up = b.levelN > a.levelN + this.marginN ? priors.stepUp : 1
    const far = (b.levelN - a.levelN) / (priors.farthest * rangeN)
    const line = (atS: number): number =>
      gapS > 0
        ? a.levelN + ((b.levelN - a.levelN) * Math.min(gapS, Math.max(0, atS - a.toS))) / gapS
        : b.levelN
    return (
      Math.log(
        known * (1 - priors.stepped) * Math.exp(-0.5 * off * off) +
          priors.stepped * up * (Math.exp(-0.5 * far * far) + priors.farther),
      ) +
      this.loads(j + 1, k, line) +
      this.lows(a.toS, b.fromS, line)
    )
  }

  /** Of everything after the last rest. */
  last(k: number): number {
    const { quiets, endS } = this.input
    const { levelN, toS } = quiets[k]!
    const line = (): number => levelN
    return this.loads(k + 1, quiets.length, line) + this.lows(toS, endS, line)
  }

  /**
   * What a stretch costs as the first rest that climbs while it lasts: an empty cell keeps its level but for a drift that
   * is slow beside the loading, and noise hides the beginning of a ramp.
   */
  private climbs({ slopeNPerS, slopeStandardN, fromS, toS, noiseN }: Quiet): number {
    const { priors, paceNPerS } = this.input
    const over = slopeNPerS - priors.drifts * paceNPerS
    if (!(over > 0 && slopeStandardN > 0) || slopeNPerS * (toS - fromS) < CLIMBED_NOISES * noiseN) return 0
    return Math.min(priors.climbing, 0.5 * (over / slopeStandardN) ** 2)
  }

  /** Length of a stretch from which on it says something. */
  private usualS(): number {
    const { priors, endS, startS } = this.input
    const lastsS = endS - startS
    return Math.max(priors.holdTime * Math.min(1, lastsS / 20), priors.holdShare * lastsS)
  }

  /** Whether the specimen was loaded between two stretches: only then is it worth a word that they stand at one level. */
  private loadedBetween(a: Quiet, b: Quiet): boolean {
    const { blocks, quiets, rangeN } = this.input
    const over = Math.max(a.levelN, b.levelN) + 0.05 * rangeN
    const end = firstAtOrAfter(this.blockS, b.fromS)
    for (let i = firstAfter(this.blockS, a.toS); i < end; i++) if (blocks[i]!.levelN > over) return true
    return quiets.some(q => q.from >= a.to && q.to <= b.from && q.levelN > over)
  }

  /** Whether the record begins with a stretch; stretches are trimmed by a block at either end. */
  private beginsWith({ fromS, from }: Quiet): boolean {
    const { first, startS, endS } = this.input
    return from <= first + 3 || fromS - startS < Math.min(0.35, (endS - startS) / 50)
  }

  private endsWith({ to, toS }: Quiet): boolean {
    const { last, startS, endS } = this.input
    return to >= last - 3 || endS - toS < Math.min(0.35, (endS - startS) / 50)
  }

  /** How well a stretch at nought goes with a specimen that was held taut while the key was pressed: that lasts seconds. */
  private mayBeTaut = ({ fromS, toS }: Quiet): number =>
    1 - Math.min(1, (toS - fromS) / this.input.priors.preloadTime)

  private shareOfRest = ({ fromS, toS }: Quiet): number => Math.min(1, (toS - fromS) / this.usualS())

  /** A moment in the midst of a long record is no witness of a new zero; at either end of it a rest may be cut short. */
  private witness(q: Quiet): number {
    if (this.beginsWith(q) || this.endsWith(q)) return 1
    return Math.max(this.input.priors.moment, this.shareOfRest(q))
  }

  private loads(from: number, to: number, lineN: (atS: number) => number): number {
    let log = 0
    for (let k = from; k < to; k++) log -= this.stretchCost(k, lineN)
    return log
  }

  /** What a stretch costs that is no rest: a held load above the zero, a push below it, nothing at it. */
  private stretchCost(k: number, lineN: (atS: number) => number): number {
    const { priors, quiets, rangeN, greatestN, endS, startS } = this.input
    const q = quiets[k]!
    const lastsS = q.toS - q.fromS
    const aboveN = q.levelN - lineN((q.fromS + q.toS) / 2)
    // Short records are lived faster.
    const pace = Math.min(1, (endS - startS) / 20)
    if (aboveN < -this.marginN) {
      const atEnd = this.endsWith(q) ? priors.restsAtEnd : 0
      const base = this.beginsWith(q) ? 0.5 * priors.push : priors.push
      return base + atEnd + 1.5 * Math.log1p(lastsS / (priors.pushTime * pace))
    }
    // What stands at the zero is a rest: to call it anything else counts each choice of rests twice.
    if (aboveN <= this.marginN) return priors.overlooked
    const moved = Math.abs(q.slopeNPerS) * lastsS
    const shows = Math.abs(q.slopeNPerS) > 4 * q.slopeStandardN && moved > 2 * q.noiseN
    // A held specimen relaxes by some parts in a hundred of its load.
    const creeps = shows && (moved > 0.004 * rangeN || (q.slopeNPerS < 0 && moved > priors.relaxes * aboveN))
    const time = Math.log1p(Math.min(priors.holdMost, lastsS) / this.usualS())
    // The nearer to the greatest force, the likelier a stretch is held, whatever its length.
    const fallN = greatestN - q.levelN
    const low = Math.min(1, Math.max(0, fallN / rangeN))
    let cost = priors.hold * time * (0.03 + 0.97 * low * low)
    if (creeps) cost *= priors.relaxing
    if (this.isTaut(q)) cost *= 1 - priors.preload
    if (this.endsWith(q) && fallN > 0.5 * rangeN && !creeps) cost += priors.restsAtEnd
    return cost
  }

  /** A stretch before the first loading, slightly above nought and short: a specimen that is held taut. */
  private isTaut({ levelN, fromS, toS }: Quiet): boolean {
    const { priors, blocks, quiets, rangeN } = this.input
    if (!(levelN > this.resolutionN) || levelN > 0.05 * rangeN || toS - fromS > priors.preloadTime)
      return false
    const over = levelN + 0.02 * rangeN
    return (
      !blocks.some(b => b.atS < fromS && b.levelN > over) &&
      !quiets.some(q => q.toS < fromS && q.levelN > over)
    )
  }

  /** What readings below the zero cost that last, outside the quiet stretches. */
  private lows(fromS: number, toS: number, lineN: (atS: number) => number): number {
    const { priors, blocks, endS, startS } = this.input
    let lastsS = 0
    const end = firstAfter(this.blockS, toS)
    for (let i = firstAtOrAfter(this.blockS, fromS); i < end; i++) {
      const b = blocks[i]!
      if (b.levelN < lineN(b.atS) - this.marginN) lastsS += b.lastsS
    }
    const pace = Math.min(1, (endS - startS) / 20)
    return -priors.lower * Math.log1p(lastsS / (priors.lowerTime * pace))
  }
}

/** A climb is seen from so many standard deviations of the reading on. */
const CLIMBED_NOISES = 2

/** A machine that goes to and fro comes back to the same levels under load too: that two levels agree then says nothing. */
function goesToAndFro({ quiets, rangeN, greatestN }: ZeroChainInput, sameN: number): boolean {
  const upper = quiets.filter(q => q.levelN > greatestN - 0.7 * rangeN)
  const again = upper.filter((q, k) =>
    upper
      .slice(0, k)
      .some(
        p =>
          Math.abs(p.levelN - q.levelN) < 3 * sameN &&
          quiets.some(o => o.from >= p.to && o.to <= q.from && o.levelN < q.levelN - 0.2 * rangeN),
      ),
  )
  return again.length >= 2 && again.length >= 0.3 * upper.length
}

/** How far two stretches lie apart beyond what the drift within them leads to. */
function unexplainedN(a: Quiet, b: Quiet): number {
  const apartN = b.levelN - a.levelN
  const drifts = (q: Quiet): boolean => Math.abs(q.slopeNPerS) > 3 * q.slopeStandardN
  if (!drifts(a) || !drifts(b) || a.slopeNPerS * b.slopeNPerS <= 0) return apartN
  const led = ((a.slopeNPerS + b.slopeNPerS) / 2) * ((b.fromS + b.toS - a.fromS - a.toS) / 2)
  return Math.abs(apartN - led) < Math.abs(apartN) ? apartN - led : apartN
}
