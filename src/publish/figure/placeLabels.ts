/** A label that wants to stand over the tick at `x`, `width` px wide. */
export interface LabelWish {
  readonly x: number
  readonly width: number
  /** Greater first: where the room is short, the least go without. */
  readonly weight: number
}

export interface LabelPlace {
  /** Left end of the text. */
  readonly x: number
  /** Row, 0 nearest the curve. */
  readonly row: number
}

export interface LabelRoom {
  readonly fromX: number
  readonly toX: number
  readonly rows: number
}

const GAP_PX = 10
/** A picture has room for far fewer; past this many even trying takes long. */
const MOST_TRIED = 200
/** Text stands this far beside its tick. */
const BESIDE_PX = 4

/**
 * Rows of labels above a plot: none over another, none outside the room, and no tick's line through the label of
 * another. `null` for a label that has to go without.
 */
export function placeLabels(wishes: readonly LabelWish[], room: LabelRoom): (LabelPlace | null)[] {
  const byWeight = wishes.map((_, i) => i).sort((a, b) => wishes[b]!.weight - wishes[a]!.weight || a - b)
  let kept: readonly number[] = []
  let places: (LabelPlace | null)[] = wishes.map(() => null)
  for (const i of byWeight.slice(0, MOST_TRIED)) {
    const withOneMore = placeAll(wishes, [...kept, i], room)
    if (!withOneMore) continue
    kept = [...kept, i]
    places = withOneMore
  }
  return places
}

/** From right to left, so that the line of a tick rises past labels that mostly begin to its right. */
function placeAll(
  wishes: readonly LabelWish[],
  kept: readonly number[],
  { fromX, toX, rows }: LabelRoom,
): (LabelPlace | null)[] | null {
  const places: (LabelPlace | null)[] = wishes.map(() => null)
  const spans: { x: number; from: number; to: number; row: number }[] = []
  const rightFirst = [...kept].sort((a, b) => wishes[b]!.x - wishes[a]!.x || b - a)
  for (const i of rightFirst) {
    const { x, width } = wishes[i]!
    const left = x + BESIDE_PX + width <= toX ? x + BESIDE_PX : Math.max(fromX, x - BESIDE_PX - width)
    const span = { x, from: left, to: left + width }
    // One that stands to the left of its tick lies across the ticks before it: as high as there is room, so that those end below.
    const upwards = Array.from({ length: rows }, (_, r) => r)
    const row = (left < x ? upwards.toReversed() : upwards).find(
      r =>
        spans.every(s => s.row !== r || span.to + GAP_PX <= s.from || span.from >= s.to + GAP_PX) &&
        spans.every(s => s.row >= r || x < s.from || x > s.to) &&
        spans.every(s => s.row <= r || s.x < span.from || s.x > span.to),
    )
    if (row === undefined) return null
    spans.push({ ...span, row })
    places[i] = { x: left, row }
  }
  return lowered(places)
}

/** The same without the rows that stayed empty. */
function lowered(places: readonly (LabelPlace | null)[]): (LabelPlace | null)[] {
  const used = [...new Set(places.flatMap(place => (place ? [place.row] : [])))].sort((a, b) => a - b)
  return places.map(place => place && { ...place, row: used.indexOf(place.row) })
}
