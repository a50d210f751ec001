/** A label that wants to stand over `x`, `width` px wide. */
export interface LabelWish {
  readonly x: number
  readonly width: number
  /** Greater first; those that find no place are left out, the least important first. */
  readonly weight: number
}

export interface LabelPlace {
  /** Left end of the text. */
  readonly x: number
  /** Row, 0 nearest the curve. */
  readonly row: number
}

const GAP_PX = 10

/**
 * Rows of labels above a plot, none over another and none outside `fromX`…`toX`; `null` for a label without a place.
 * Labels begin at their tick, or end at it where the room runs out to the right.
 */
export function placeLabels(
  wishes: readonly LabelWish[],
  { fromX, toX, rows }: { fromX: number; toX: number; rows: number },
): (LabelPlace | null)[] {
  const taken: { from: number; to: number }[][] = Array.from({ length: rows }, () => [])
  const places: (LabelPlace | null)[] = wishes.map(() => null)
  const byWeight = wishes.map((_, i) => i).sort((a, b) => wishes[b]!.weight - wishes[a]!.weight || a - b)
  for (const i of byWeight) {
    const { x, width } = wishes[i]!
    const lefts = [x, x - width].filter(left => left >= fromX && left + width <= toX)
    if (lefts.length === 0) lefts.push(Math.max(fromX, Math.min(x, toX - width)))
    search: for (let row = 0; row < rows; row++) {
      for (const left of lefts) {
        const free = taken[row]!.every(t => left + width + GAP_PX <= t.from || left >= t.to + GAP_PX)
        if (!free) continue
        taken[row]!.push({ from: left, to: left + width })
        places[i] = { x: left, row }
        break search
      }
    }
  }
  return places
}
