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

  /** The least of the forces before the drop up to which lie so many shares of the weight; for each of `shares`. */
  quantilesN(shares: readonly number[]): number[] {
    const sorted = Float64Array.from(this.befores).sort()
    return shares.map(share => {
      let low = 0
      let high = sorted.length - 1
      while (low < high) {
        const middle = (low + high) >> 1
        if (this.weightUpTo(sorted[middle]!) >= share * this.total) high = middle
        else low = middle + 1
      }
      return sorted[low]!
    })
  }

  private weightUpTo(beforeN: number): number {
    let sum = 0
    for (let i = 0; i < this.befores.length; i++) if (this.befores[i]! <= beforeN) sum += this.weights[i]!
    return sum
  }

  private mean(values: readonly number[]): number {
    let sum = 0
    for (let i = 0; i < values.length; i++) sum += values[i]! * this.weights[i]!
    return sum / this.total
  }
}
