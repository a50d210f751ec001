/**
 * p values adjusted for being several, so that the chance of even one false alarm stays at the level chosen,
 * whatever hangs together with what. Holm, Scand. J. Statist. 6 (1979) 65. Same order as given.
 */
export function holm(pValues: readonly number[]): number[] {
  const rising = Array.from(pValues.keys()).sort((i, j) => pValues[i]! - pValues[j]!)
  const adjusted = new Array<number>(pValues.length)
  let reached = 0
  for (const [rank, index] of rising.entries()) {
    reached = Math.max(reached, Math.min(1, pValues[index]! * (pValues.length - rank)))
    adjusted[index] = reached
  }
  return adjusted
}
