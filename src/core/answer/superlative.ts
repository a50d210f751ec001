import { QUANTITIES, type Quantity } from '../statistics/compare/quantity.ts'

export interface Superlative {
  /** `holds most` */
  readonly one: string
  /** `hold most` */
  readonly several: string
}

const OURS: Readonly<Record<Quantity, Superlative>> = {
  peakForce: { one: 'holds most', several: 'hold most' },
  laterPeak: { one: 'holds most when pulled again', several: 'hold most when pulled again' },
  work: { one: 'takes most work to break', several: 'take most work to break' },
  partialBreaks: { one: 'lets go in most steps', several: 'let go in most steps' },
  stiffness: { one: 'is stiffest', several: 'are stiffest' },
}

/** How people say that one has most of a quantity of ours, or of a table's column that goes by its own name. */
export function superlativeOf(quantity: string): Superlative {
  if (Object.hasOwn(QUANTITIES, quantity)) return OURS[quantity as Quantity]
  return /peak|force|strength|load/i.test(quantity)
    ? OURS.peakForce
    : { one: 'comes out highest', several: 'come out highest' }
}
