/** What can be compared, and how people say that one has more of it. `most` follows “9 in 10”. */
export const QUANTITIES = {
  peakForce: { noun: 'peak force', more: 'holds more', hold: 'holds', most: 'hold at least' },
  laterPeak: {
    noun: 'later peak',
    more: 'holds more in its later pull',
    hold: 'holds in its later pull',
    most: 'hold at least',
  },
  work: { noun: 'work to break', more: 'takes more work to break', hold: 'takes', most: 'take at least' },
  partialBreaks: {
    noun: 'number of partial breaks',
    more: 'lets go in more steps',
    hold: 'has',
    most: 'have at least',
  },
  stiffness: { noun: 'stiffness', more: 'is stiffer', hold: 'has', most: 'have at least' },
} as const

export type Quantity = keyof typeof QUANTITIES

export interface QuantityWords {
  readonly noun: string
  readonly more: string
  readonly hold: string
  readonly most: string
}

/** Words for a quantity of ours, or for a column of a table that goes by its own name. */
export function quantityWords(quantity: string): QuantityWords {
  if (Object.hasOwn(QUANTITIES, quantity)) return QUANTITIES[quantity as Quantity]
  return /peak|force|strength|load/i.test(quantity)
    ? { noun: quantity, more: 'holds more', hold: 'holds', most: 'hold at least' }
    : { noun: quantity, more: 'comes out higher', hold: 'comes out at', most: 'reach at least' }
}
