import { effectiveDf } from './expanded.ts'
import type { Input } from './input.ts'

/** A measurement: the result as a function of its inputs' values, in the order of the inputs. */
export type Model = (values: readonly number[]) => number

/** Correlation coefficient of inputs i and j, for i < j. */
export type Correlations = readonly { readonly i: number; readonly j: number; readonly r: number }[]

export interface Propagated {
  readonly value: number
  readonly standard: number
  /** Effective degrees of freedom. With correlated inputs the formula no longer holds (GUM G.4.1) and this is `null`. */
  readonly df: number | null
  /** For each input: ∂f/∂x, and |∂f/∂x| × its standard uncertainty. */
  readonly lines: readonly {
    readonly input: Input
    readonly sensitivity: number
    readonly contribution: number
  }[]
}

/**
 * The law of propagation of uncertainty, with sensitivities by numerical derivative (GUM 5.1.2, 5.2.2 and, for the
 * derivative by half-differences over one standard uncertainty each way, the note to 5.1.3).
 */
export function propagate(
  model: Model,
  inputs: readonly Input[],
  correlations: Correlations = [],
): Propagated {
  const values = inputs.map(input => input.value)
  const lines = inputs.map((input, i) => {
    const sensitivity = derivative(model, values, i, input.standard)
    return { input, sensitivity, contribution: Math.abs(sensitivity) * input.standard }
  })
  const signed = lines.map(line => line.sensitivity * line.input.standard)
  const own = signed.reduce((sum, s) => sum + s * s, 0)
  const crossed = correlations.reduce((sum, { i, j, r }) => sum + 2 * r * signed[i]! * signed[j]!, 0)
  return {
    value: model(values),
    standard: Math.sqrt(Math.max(0, own + crossed)),
    df:
      correlations.length > 0
        ? null
        : effectiveDf(lines.map(({ input, contribution }) => ({ standard: contribution, df: input.df }))),
    lines,
  }
}

/** Covariance of two results of the same inputs, Σ ∂f/∂x_i ∂g/∂x_j u(x_i, x_j) (GUM H.2.3). */
export function resultCovariance(f: Propagated, g: Propagated, correlations: Correlations = []): number {
  const move = (of: Propagated, i: number) => of.lines[i]!.sensitivity * of.lines[i]!.input.standard
  const own = f.lines.reduce((sum, _, i) => sum + move(f, i) * move(g, i), 0)
  return correlations.reduce(
    (sum, { i, j, r }) => sum + r * (move(f, i) * move(g, j) + move(f, j) * move(g, i)),
    own,
  )
}

/** Central difference over one standard uncertainty each way; 0 for an input without doubt. */
function derivative(model: Model, values: readonly number[], at: number, step: number): number {
  if (!(step > 0)) return 0
  const moved = (by: number) => model(values.map((value, i) => (i === at ? value + by : value)))
  return (moved(step) - moved(-step)) / (2 * step)
}
