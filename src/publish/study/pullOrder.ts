import type { PublishedSpecimen } from './study.ts'

type Pulled = Pick<PublishedSpecimen, 'pulledAt' | 'pullOrder'>

/**
 * The places of specimens in the order of pulling: as a person told it of all, else by their moments; `null` where neither is
 * known of every one. A day alone says nothing of the order on it.
 */
export function placesOfPulls(pulled: readonly Pulled[]): readonly (number | string)[] | null {
  const orders = pulled.map(({ pullOrder }) => pullOrder)
  if (orders.every(order => order !== null)) return orders
  // One that was told says that the moments are not the whole truth.
  if (orders.some(order => order !== null)) return null
  const moments = pulled.map(({ pulledAt }) => pulledAt)
  return moments.every(at => at?.includes('T')) ? moments.map(at => at ?? '') : null
}
