import type { WildPattern } from './glitches.ts'
import type { Glitch } from './types.ts'

export type GlitchKind = 'doubled' | 'halved' | 'ones' | 'channel' | 'zero' | 'other'

/** A kind, the glitches of it, and the fixed word or level where there is one. */
export interface GlitchGroup {
  readonly kind: GlitchKind
  readonly glitches: readonly Glitch[]
  /** Level of the other channel, or the fixed reading. */
  readonly levelN: number | null
  /**
   * What such a glitch reads at a level, and how near to that it is told; none of those without a pattern.
   */
  readonly reads: readonly WildPattern[]
}

/** Scatter of another channel, as a share of how far its level lies from this one's. */
const OTHER_NOISE = 0.01

interface KindOptions {
  readonly noiseN: number
  readonly stepN: number
  /** Whether the readings are the converter's own counts, so that powers of two can be told at sight. */
  readonly inCounts: boolean
}

/** Readings that differ by less may be the same but for noise and display step. */
const nearN = ({ noiseN, stepN }: Pick<KindOptions, 'noiseN' | 'stepN'>): number =>
  Math.max(8 * noiseN, 2.5 * stepN)

/** From this level on a reading of exactly zero is seen to be none. */
export const showsZeroN = (options: Pick<KindOptions, 'noiseN' | 'stepN'>): number => 3 * nearN(options)

/** A line `got = slope · level + shift` that many glitches share tells the kind, whatever was tared away. */
const LINES = [
  { kind: 'doubled', slope: 2 },
  { kind: 'halved', slope: 0.5 },
] as const

/**
 * Sorts glitches by what makes them. One bit too many or too few read from the chip doubles or halves the
 * word, all ones or a power of two less one is a line that stayed high, another level is another channel's.
 * Where the zero of the readings is the converter's own, twice the level is twice the word. Where something
 * was tared away, twice the word is `2 · level + tare`: one load alone cannot tell that from another
 * channel, two loads can.
 */
export function sortGlitches(all: readonly Glitch[], options: KindOptions): GlitchGroup[] {
  const groups: GlitchGroup[] = []
  let rest = [...all]
  const take = (
    kind: GlitchKind,
    levelN: number | null,
    is: (g: Glitch) => boolean,
    reads: GlitchGroup['reads'] = [],
  ): void => {
    const taken = rest.filter(is)
    if (taken.length === 0) return
    groups.push({ kind, glitches: taken, levelN, reads })
    rest = rest.filter(g => !is(g))
  }
  const always = (shiftN: number, withinN: number): GlitchGroup['reads'] => [{ slope: 0, shiftN, withinN }]
  const near = nearN(options)
  const byLevel = (g: Glitch): boolean => Math.abs(g.levelN) > showsZeroN(options)
  if (options.inCounts) take('ones', null, g => isFullWord(g.gotN))
  take('zero', 0, g => g.gotN === 0)
  // Two loads or more settle it by the slope, before anything is taken by one load alone.
  for (;;) {
    const line = sharedLine(rest, near, options)
    if (line === null) break
    const { slope, shiftN, kind } = line
    take(kind, kind === 'channel' || kind === 'ones' ? shiftN : null, g => isOn(g, slope, shiftN, near), [
      { slope, shiftN, withinN: Math.max(1, slope) * near },
    ])
  }
  for (const { kind, slope } of LINES)
    take(kind, null, g => byLevel(g) && isOn(g, slope, 0, near), [
      { slope, shiftN: 0, withinN: Math.max(1, slope) * near },
    ])
  for (;;) {
    const word = commonWord(rest, options)
    if (word === null) break
    const withinN = sameWithin(word, options)
    take('ones', word, g => Math.abs(g.gotN - word) <= withinN, always(word, withinN))
  }
  // Another channel has its own noise, which may be more than this one's.
  const apartN = Math.max(0, ...rest.map(g => Math.abs(g.gotN - g.levelN)))
  const wide = Math.max(2 * near, OTHER_NOISE * apartN)
  const level = densest(
    rest.map(g => g.gotN),
    2 * wide,
  )
  if (level !== null && level.members >= 3)
    take('channel', level.at, g => Math.abs(g.gotN - level.at) <= wide, always(level.at, wide))
  take('other', null, () => true)
  return merged(groups)
}

/** A doubled word keeps the bit that came in behind, and twice the level carries twice its noise. */
const isOn = (g: Glitch, slope: number, shiftN: number, near: number): boolean =>
  Math.abs(g.gotN - slope * g.levelN - shiftN) <= Math.max(1, slope) * (near + g.levelDoubtN)

/**
 * The line that most glitches share, where they come from loads so far apart that no other line fits them; a
 * slope of 0 is another channel, or, with the very same reading each time, a fixed word.
 */
function sharedLine(
  glitches: readonly Glitch[],
  near: number,
  options: KindOptions,
): { kind: GlitchKind; slope: number; shiftN: number } | null {
  let best: { kind: GlitchKind; slope: number; shiftN: number; members: number } | null = null
  for (const { kind, slope } of [...LINES, { kind: 'channel', slope: 0 } as const]) {
    const width = 2 * Math.max(1, slope) * near
    const found = densest(
      glitches.map(g => g.gotN - slope * g.levelN),
      width,
    )
    if (found === null) continue
    const members = glitches.filter(g => Math.abs(g.gotN - slope * g.levelN - found.at) <= width / 2)
    const levels = members.map(g => g.levelN).sort((a, b) => a - b)
    // Apart enough that a slope off by a half would show.
    const apart = levels.filter(l => l - levels[0]! > 4 * width).length
    const other = levels.filter(l => levels.at(-1)! - l > 4 * width).length
    if (members.length < 3 || Math.min(apart, other) < 1) continue
    if (best !== null && members.length <= best.members) continue
    const first = members[0]!.gotN
    const same = slope === 0 && members.every(g => Math.abs(g.gotN - first) <= sameWithin(first, options))
    best = { kind: same ? 'ones' : kind, slope, shiftN: found.at, members: members.length }
  }
  return best
}

/** Where in a row of numbers a window of `width` holds most of them: its middle and their count. */
function densest(values: readonly number[], width: number): { at: number; members: number } | null {
  const sorted = [...values].sort((a, b) => a - b)
  let best: { at: number; members: number } | null = null
  for (let i = 0, j = 0; i < sorted.length; i++) {
    while (j < sorted.length && sorted[j]! - sorted[i]! <= width) j++
    if (best === null || j - i > best.members)
      best = { at: (sorted[i]! + sorted[j - 1]!) / 2, members: j - i }
  }
  return best
}

/** Readings count as the very same within this: another channel may well be calmer than this one. */
const sameWithin = (value: number, { stepN }: KindOptions): number =>
  Math.max(0.6 * stepN, 1e-9 * Math.abs(value))

/** A reading that comes again, digit by digit, out of noise: a fixed word. */
function commonWord(glitches: readonly Glitch[], options: KindOptions): number | null {
  const found = densest(
    glitches.map(g => g.gotN),
    2 * sameWithin(glitches[0]?.gotN ?? 0, options),
  )
  // By chance two readings of another channel fall on one step where the steps are coarse.
  const atLeast = options.stepN > 0.3 * options.noiseN ? Math.max(3, 0.5 * glitches.length) : 2
  return found !== null && found.members >= atLeast ? found.at : null
}

/** All 24 bits one (−1), or a power of two less one from a thousand up, or the ends of the range. */
function isFullWord(counts: number): boolean {
  if (!Number.isInteger(counts)) return false
  if (counts === -1 || counts === -(2 ** 23)) return true
  const bits = Math.log2(counts + 1)
  return bits >= 10 && bits <= 24 && Number.isInteger(bits)
}

/** Groups of one kind as one; of several fixed words, no single word is told. */
function merged(groups: readonly GlitchGroup[]): GlitchGroup[] {
  const kinds = [...new Set(groups.map(g => g.kind))]
  return kinds.map(kind => {
    const own = groups.filter(g => g.kind === kind)
    return {
      kind,
      glitches: own.flatMap(g => g.glitches),
      levelN: own.length === 1 ? own[0]!.levelN : null,
      reads: own.flatMap(g => g.reads),
    }
  })
}
