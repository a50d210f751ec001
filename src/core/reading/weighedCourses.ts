import { weightedQuantiles } from '../signal/weightedQuantile.ts'

/**
 * Courses of the force about a drop, each with its weight: their means and quantiles. Kept as columns of numbers, since
 * a long record has some hundred thousand of them.
 */
export class WeighedCourses {
  private readonly weights: number[] = []
  private readonly befores: number[] = []
  private readonly shares: number[] = []
  private readonly instants: number[] = []
  /** Sum of the weights. */
  total = 0

  /** Force just before the drop, share of it that was lost, and instant. */
  add(weight: number, beforeN: number, share: number, atS: number): void {
    this.weights.push(weight)
    this.befores.push(beforeN)
    this.shares.push(share)
    this.instants.push(atS)
    this.total += weight
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
    for (let i = 0; i < this.shares.length; i++) sum += (this.shares[i]! - mean) ** 2 * this.weights[i]!
    return Math.sqrt(sum / this.total)
  }

  /** The least of the forces before the drop up to which lies this share of the weight; for each of `shares`. */
  quantilesN(shares: readonly number[]): number[] {
    return weightedQuantiles(this.befores, this.weights, shares)
  }

  private mean(values: readonly number[]): number {
    let sum = 0
    for (let i = 0; i < values.length; i++) sum += values[i]! * this.weights[i]!
    return sum / this.total
  }
}
