import { seededRandom, shuffled } from '../random.ts'

export interface PullOrder {
  /** Specimen labels in the order in which to pull them. */
  readonly order: readonly string[]
  /** The same by block: each holds as many of every variant, so that whatever changes over time meets all alike. */
  readonly blocks: readonly (readonly string[])[]
  readonly seed: number
}

/**
 * Randomised complete blocks: in each every variant `perBlock` times (once unless told), in random order, until there are `perGroup` of each.
 * The seed brings the same order back. Fisher, The Design of Experiments, 1935, chapter 4. Labels are the variant and a running number.
 */
export function blockedOrder(
  variants: readonly string[],
  perGroup: number,
  seed: number,
  perBlock = 1,
): PullOrder {
  const random = seededRandom(seed)
  const blocks = Array.from({ length: Math.ceil(perGroup / perBlock) }, (_, block) => {
    const first = block * perBlock
    const numbers = Array.from({ length: Math.min(perBlock, perGroup - first) }, (_, i) => first + i + 1)
    return shuffled(
      numbers.flatMap(number => variants.map(variant => `${variant} ${number}`)),
      random,
    )
  })
  return { order: blocks.flat(), blocks, seed }
}
