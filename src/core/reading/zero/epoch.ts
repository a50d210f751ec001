import type { Segment } from '../../recording.ts'
import type { Signal } from '../../signal/summary.ts'
import type { Amendments } from '../amendments.ts'
import type { Zero } from '../document.ts'
import type { ZeroPriors } from '../priors.ts'
import type { Quiet } from '../quiet.ts'
import type { Rezero } from '../rezero.ts'
import type { ZeroBelief } from './zeroChain.ts'

/** A stretch of samples with one setting of the zero: between the ends of a segment and the rezeros in it. */
export interface Epoch {
  /** First sample, and one past the last. */
  readonly from: number
  readonly to: number
  readonly rests: readonly Quiet[]
  readonly basis: Zero['basis']
  /** The zero line: straight between these, level outside. */
  readonly knots: readonly { readonly atS: number; readonly levelN: number }[]
  /** Standard uncertainty of the zero's level, without its moving between rests. */
  readonly standardN: number
  /** How far apart the rests lie, in N; 0 with fewer than two. */
  readonly movedN: number
  /** They lie apart by drift: the slope within each leads from one to the other. */
  readonly drifts: boolean
  /** Some of them lie apart by a step: the zero keeps the level before until the force falls. */
  readonly steps: boolean
  /** Load on the specimen when the indicator was zeroed, in N; 0 where it was not zeroed under load. */
  readonly preloadN: number
  /** The unloaded cell was not seen: the indicator's own zero is believed, less readings of the wrong sign that last. */
  readonly unseen: boolean
  /** The only witness is a rest at the start that nothing later confirms, or a brief one at the very end. */
  readonly lone: boolean
  /** Zeros at the time of the greatest reading, by weight; empty where a person said where the rest is. */
  readonly beliefs: readonly ZeroBelief[]
}

/** The zero period that holds a sample of the working series; `undefined` where none does. */
export const epochAt = (epochs: readonly Epoch[], index: number): Epoch | undefined =>
  epochs.find(e => index >= e.from && index < e.to)

/** The rest that is nearest to a time, and how far away, where all rests lie on one side of it; else `null`. */
export function restBeyond(
  { rests }: Pick<Epoch, 'rests'>,
  atS: number,
): { readonly rest: Quiet; readonly awayS: number } | null {
  const first = rests[0]
  const last = rests.at(-1)
  if (!first || !last || (first.fromS <= atS && atS <= last.toS)) return null
  return last.toS < atS ? { rest: last, awayS: atS - last.toS } : { rest: first, awayS: first.fromS - atS }
}

export interface ZeroStage {
  readonly epochs: readonly Epoch[]
  readonly zeros: readonly Zero[]
}

export interface ZeroInput {
  readonly timeS: Float64Array
  readonly forceN: Float64Array
  readonly segments: readonly Segment[]
  readonly signal: Pick<Signal, 'noiseN' | 'quantumN' | 'periodS'>
  readonly quiets: readonly Quiet[]
  readonly rezeros: readonly Rezero[]
  readonly amendments: Pick<Amendments, 'zeros' | 'holds'>
  /** Whether a lone rest at the start is believed; left out: when it lasts 2.5 s. */
  readonly believeLone?: boolean
  readonly priors?: ZeroPriors
}
