import { weightedQuantiles } from '../signal/weightedQuantile.ts'

/** Room for most drops. */
const FIRST_ROOM = 1024

/**
 * Courses of the force about a drop, each with its weight: their means and quantiles. Kept as columns of numbers that
 * are filled again for the next drop, since a long record has some hundred thousand courses.
 */
export class WeighedCourses {
  private weights = new Float64Array(FIRST_ROOM)
  private befores = new Float64Array(FIRST_ROOM)
  private shares = new Float64Array(FIRST_ROOM)
  private instants = new Float64Array(FIRST_ROOM)
  /** Copies to be put in another order. */
  private ownBefores = new Float64Array(FIRST_ROOM)
  private ownWeights = new Float64Array(FIRST_ROOM)
  private count = 0
  /** Sum of the weights. */
  total = 0

  /** Begins anew without any. */
  clear(): void {
    this.count = 0
    this.total = 0
  }

  /** Force just before the drop, share of it that was lost, and instant. */
  add(weight: number, beforeN: number, share: number, atS: number): void {
    const i = this.count
    if (i === this.weights.length) this.makeRoom()
    this.weights[i] = weight
    this.befores[i] = beforeN
    this.shares[i] = share
    this.instants[i] = atS
    this.count = i + 1
    this.total += weight
  }

  private makeRoom(): void {
    const longer = (values: Float64Array): Float64Array<ArrayBuffer> => {
      const out = new Float64Array(2 * values.length)
      out.set(values)
      return out
    }
    this.weights = longer(this.weights)
    this.befores = longer(this.befores)
    this.shares = longer(this.shares)
    this.instants = longer(this.instants)
    this.ownBefores = longer(this.ownBefores)
    this.ownWeights = longer(this.ownWeights)
  }

  meanAtS(): number {
    return this.mean(this.instants)
  }

  meanShare(): number {
    return this.mean(this.shares)
  }

  /** Standard deviation of the share about its mean. */
  shareSpread(): number {
    const mean = this.meanShare()
    let sum = 0
    for (let i = 0; i < this.count; i++) sum += (this.shares[i]! - mean) ** 2 * this.weights[i]!
    return Math.sqrt(sum / this.total)
  }

  /** The least of the forces before the drop up to which lies this share of the weight; for each of `shares`. */
  quantilesN(shares: readonly number[]): number[] {
    const { befores, weights, ownBefores, ownWeights, count } = this
    for (let i = 0; i < count; i++) {
      ownBefores[i] = befores[i]!
      ownWeights[i] = weights[i]!
    }
    return weightedQuantiles(ownBefores, ownWeights, count, shares)
  }

  private mean(values: Float64Array): number {
    let sum = 0
    for (let i = 0; i < this.count; i++) sum += values[i]! * this.weights[i]!
    return sum / this.total
  }
}
