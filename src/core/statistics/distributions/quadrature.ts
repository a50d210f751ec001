/** Nodes and weights of a rule on [−1, 1]. */
export interface Rule {
  readonly nodes: Float64Array
  readonly weights: Float64Array
}

/**
 * Gauss–Legendre rule with `count` points on [−1, 1], exact for polynomials up to degree 2·count − 1.
 * Nodes are the roots of the Legendre polynomial by Newton's method from Tricomi's first guess; weights are
 * 2/((1 − x²) P′(x)²) (Abramowitz and Stegun 25.4.29).
 */
export function gaussLegendre(count: number): Rule {
  const nodes = new Float64Array(count)
  const weights = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (count + 0.5))
    let slope = 0
    for (let turn = 0; turn < 100; turn++) {
      let before = 1
      let value = x
      for (let degree = 2; degree <= count; degree++) {
        const next = ((2 * degree - 1) * x * value - (degree - 1) * before) / degree
        before = value
        value = next
      }
      slope = (count * (x * value - before)) / (x * x - 1)
      const step = value / slope
      x -= step
      if (Math.abs(step) < 1e-15) break
    }
    nodes[i] = x
    weights[i] = 2 / ((1 - x * x) * slope * slope)
  }
  return { nodes, weights }
}
