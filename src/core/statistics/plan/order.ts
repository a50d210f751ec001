import { seededRandom, shuffled } from '../random.ts'

export interface PullOrder {
  /** Specimen labels in the order in which to pull them. */
  readonly order: readonly string[]
  /** The same by block: each holds one of every variant, so that whatever changes over time meets all alike. */
  readonly blocks: readonly (readonly string[])[]
  readonly seed: number
}

/**
 * Randomised complete blocks: `perGroup` blocks, in each every variant once, in random order. The seed brings the same
 * order back. Fisher, The Design of Experiments, 1935, chapter 4. Labels are the variant and a running number.
 */
export function blockedOrder(variants: readonly string[], perGroup: number, seed: number): PullOrder {
  const random = seededRandom(seed)
  const blocks = Array.from({ length: perGroup }, (_, block) =>
    shuffled(variants, random).map(variant => `${variant} ${block + 1}`),
  )
  return { order: blocks.flat(), blocks, seed }
}
