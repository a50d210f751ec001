import { firstAfter, firstAtOrAfter } from './search.ts'

/**
 * A long record made ready for drawing: for blocks of 16, 32, 64 … samples, where its least and its greatest value
 * stand. Built once, in time and memory linear in the samples (about one byte a sample); then any stretch is thinned
 * to a number of pixels without reading it whole, and no extreme is ever lost.
 */
export interface Pyramid {
  readonly timeS: Float64Array
  readonly values: Float64Array
  /** Level k has blocks of 16·2ᵏ samples; the last block of a level may be short. */
  readonly levels: readonly Level[]
  /** Samples before which the line is broken, in order, and how much time is missing there. */
  readonly breaks: readonly { readonly before: number; readonly missingS: number }[]
}

interface Level {
  readonly leastAt: Uint32Array
  readonly greatestAt: Uint32Array
}

/** What is drawn: points in the order of time. A value of NaN breaks the line. */
export interface Thinned {
  readonly timeS: Float64Array
  readonly value: Float64Array
}

const FIRST_BLOCK = 16

/**
 * Builds the pyramid of a record. `timeS` must not fall; `gaps` are stretches without samples, over which no line is
 * to be drawn. Values that are NaN are passed over.
 */
export function buildPyramid(
  timeS: Float64Array,
  values: Float64Array,
  gaps: readonly { readonly fromS: number; readonly toS: number }[] = [],
): Pyramid {
  const n = values.length
  const levels: Level[] = []
  let blocks = Math.ceil(n / FIRST_BLOCK)
  if (blocks > 0) {
    const leastAt = new Uint32Array(blocks)
    const greatestAt = new Uint32Array(blocks)
    for (let b = 0; b < blocks; b++) {
      const { least, greatest } = scan(values, b * FIRST_BLOCK, Math.min(n, (b + 1) * FIRST_BLOCK))
      leastAt[b] = least
      greatestAt[b] = greatest
    }
    levels.push({ leastAt, greatestAt })
  }
  while (blocks > 1) {
    const below = levels.at(-1)!
    const half = Math.ceil(blocks / 2)
    const leastAt = new Uint32Array(half)
    const greatestAt = new Uint32Array(half)
    for (let b = 0; b < half; b++) {
      const other = Math.min(2 * b + 1, blocks - 1)
      leastAt[b] = lesser(values, below.leastAt[2 * b]!, below.leastAt[other]!)
      greatestAt[b] = greater(values, below.greatestAt[2 * b]!, below.greatestAt[other]!)
    }
    levels.push({ leastAt, greatestAt })
    blocks = half
  }
  const breaks = gaps
    .map(gap => ({ before: firstAtOrAfter(timeS, gap.toS), missingS: gap.toS - gap.fromS }))
    .filter(b => b.before > 0 && b.before < n)
    .sort((a, b) => a.before - b.before)
  return { timeS, values, levels, breaks }
}

/**
 * The stretch from `fromS` to `toS` for a drawing `pixels` wide, with the sample on either side of it so that the
 * line runs to the edge. At most about four points a pixel; the least and greatest value of every pixel's worth of
 * samples are among them. A gap stays open where it is wider than a pixel. Cost: in proportion to `pixels` (and to
 * the gaps in view), whatever the length of the record.
 */
export function sliceForDisplay(pyramid: Pyramid, fromS: number, toS: number, pixels: number): Thinned {
  if (!(pixels >= 1)) throw new RangeError(`pixels must be 1 or more, got ${pixels}`)
  const { timeS, values, breaks } = pyramid
  const n = values.length
  const from = Math.max(0, firstAtOrAfter(timeS, fromS) - 1)
  const to = Math.min(n, firstAfter(timeS, toS) + 1)
  const pixelS = (toS - fromS) / pixels
  const block = blockFor(to - from, pixels)
  const points: number[] = []
  let runFrom = from
  for (const { before, missingS } of breaks) {
    if (before <= from || before >= to || missingS < pixelS) continue
    addRun(points, pyramid, runFrom, before, block)
    points.push(-1)
    runFrom = before
  }
  addRun(points, pyramid, runFrom, to, block)

  const thinned = { timeS: new Float64Array(points.length), value: new Float64Array(points.length) }
  for (let p = 0; p < points.length; p++) {
    const at = points[p]!
    // A break takes the time of the sample after it: times never fall, and nothing is drawn there.
    thinned.timeS[p] = timeS[at < 0 ? points[p + 1]! : at]!
    thinned.value[p] = at < 0 ? Number.NaN : values[at]!
  }
  return thinned
}

/** Samples to a block so that there are at most two blocks a pixel; 1 where every sample can be shown. */
function blockFor(samples: number, pixels: number): number {
  if (samples <= 4 * pixels) return 1
  let block = 2
  while (samples > 2 * pixels * block) block *= 2
  return block
}

/** Adds the run's first and last sample and, block by block, its least and greatest. */
function addRun(points: number[], pyramid: Pyramid, from: number, to: number, block: number): void {
  if (to <= from) return
  if (block === 1) {
    for (let i = from; i < to; i++) points.push(i)
    return
  }
  add(points, from)
  for (let start = from - (from % block); start < to; start += block) {
    const { least, greatest } = extremes(pyramid, Math.max(from, start), Math.min(to, start + block))
    add(points, Math.min(least, greatest))
    add(points, Math.max(least, greatest))
  }
  add(points, to - 1)
}

const add = (points: number[], at: number): void => {
  if (points.length === 0 || points.at(-1)! < at) points.push(at)
}

/** Where the least and the greatest value of [from, to) stand, from the largest blocks that fit in it. */
function extremes(
  { values, levels }: Pyramid,
  from: number,
  to: number,
): { least: number; greatest: number } {
  let least = from
  let greatest = from
  let at = from
  while (at < to) {
    let level = -1
    let size = 1
    while (
      level + 1 < levels.length &&
      at % (FIRST_BLOCK << (level + 1)) === 0 &&
      at + (FIRST_BLOCK << (level + 1)) <= to
    ) {
      level++
      size = FIRST_BLOCK << level
    }
    const of = levels[level]
    least = lesser(values, least, of ? of.leastAt[at / size]! : at)
    greatest = greater(values, greatest, of ? of.greatestAt[at / size]! : at)
    at += size
  }
  return { least, greatest }
}

function scan(values: Float64Array, from: number, to: number): { least: number; greatest: number } {
  let least = from
  let greatest = from
  for (let i = from + 1; i < to; i++) {
    least = lesser(values, least, i)
    greatest = greater(values, greatest, i)
  }
  return { least, greatest }
}

/** The one of two places with the lesser value; a value that is not a number gives way to one that is. */
const lesser = (values: Float64Array, a: number, b: number): number =>
  values[b]! < values[a]! || (Number.isNaN(values[a]!) && !Number.isNaN(values[b]!)) ? b : a

const greater = (values: Float64Array, a: number, b: number): number =>
  values[b]! > values[a]! || (Number.isNaN(values[a]!) && !Number.isNaN(values[b]!)) ? b : a
