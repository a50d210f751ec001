/** What can be compared, and how people say that one has more of it. */
export const QUANTITIES = {
  peakForce: { noun: 'peak force', more: 'holds more', hold: 'holds' },
  laterPeak: { noun: 'later peak', more: 'holds more in its later pull', hold: 'holds in its later pull' },
  work: { noun: 'work to break', more: 'takes more work to break', hold: 'takes' },
  partialBreaks: { noun: 'number of partial breaks', more: 'lets go in more steps', hold: 'has' },
  stiffness: { noun: 'stiffness', more: 'is stiffer', hold: 'has' },
} as const

export type Quantity = keyof typeof QUANTITIES

export interface QuantityWords {
  readonly noun: string
  readonly more: string
  readonly hold: string
}

/** Words for a quantity of ours, or for a column of a table that goes by its own name. */
export function quantityWords(quantity: string): QuantityWords {
  if (Object.hasOwn(QUANTITIES, quantity)) return QUANTITIES[quantity as Quantity]
  return /peak|force|strength|load/i.test(quantity)
    ? { noun: quantity, more: 'holds more', hold: 'holds' }
    : { noun: quantity, more: 'comes out higher', hold: 'comes out at' }
}
