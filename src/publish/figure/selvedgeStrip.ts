import { STRETCH_WORDS } from '../../core/reading/selvedge.ts'
import type { Stretch, StretchKind } from '../../core/reading/states.ts'
import { shapeSvg } from '../clip/shapesSvg.ts'
import { weave } from '../clip/weave.ts'
import type { Look } from './look.ts'
import { type Svg, tag, words } from './svg.ts'
import { textWidth } from './textWidth.ts'

/** Height of the strip. */
export const selvedgePx = ({ size }: Look): number => Math.max(18, Math.round(1.4 * size.small))

export interface StripPlace {
  readonly xOf: (timeS: number) => number
  /** Ends of the plot. */
  readonly left: number
  readonly right: number
  readonly y: number
  readonly look: Look
  /** What its ids begin with: other figures of a page have another. */
  readonly prefix: string
}

/**
 * The strip under a curve: every stretch by its weave (dots at rest, plain while loading, hatched on hold, hatched back
 * on unload, crossed on re-grip), and by its word where there is room. Each weave is drawn once, as long as the plot,
 * and shown through the stretches that have it: plain lines stay lines on paper, and a page that looks closer moves
 * the stretches alone.
 */
export function selvedgeStrip(stretches: readonly Stretch[], place: StripPlace): Svg {
  const height = selvedgePx(place.look)
  const woven = [...new Set(stretches.map(stretch => stretch.kind))].filter(isWoven)
  return tag(
    'g',
    {},
    tag('defs', {}, ...woven.map(kind => cloth(kind, place))),
    ...stretches.map((stretch, i) => {
      const from = place.xOf(stretch.fromS)
      const box = { x: from, y: place.y, width: Math.max(0, place.xOf(stretch.toS) - from), height }
      const word = STRETCH_WORDS[stretch.kind]
      return tag(
        'g',
        { 'data-from': stretch.fromS.toFixed(3), 'data-to': stretch.toS.toFixed(3) },
        tag('title', {}, `${word}, ${(stretch.toS - stretch.fromS).toFixed(1)} s`),
        ...(isWoven(stretch.kind) ? shownThrough(box, stretch.kind, `${place.prefix}-${i}`, place) : []),
        stretch.kind === 'gap'
          ? tag('rect', { ...box, fill: 'none' })
          : tag('rect', { ...box, fill: 'none', stroke: place.look.pencil, 'stroke-width': 0.75 }),
        wordIn(box, word, place.look),
      )
    }),
  )
}

const isWoven = (kind: StretchKind): boolean => kind !== 'loading' && kind !== 'gap'

/** Distance from thread to thread. */
const STEP_PX = 6
const THREAD_PX = 1

const cloth = (kind: StretchKind, { left, right, y, look, prefix }: StripPlace): Svg =>
  tag(
    'g',
    { id: `${prefix}-${kind}` },
    ...weave(kind, {
      x: left,
      y,
      width: right - left,
      height: selvedgePx(look),
      step: STEP_PX,
      fromX: left + STEP_PX / 2,
      colour: look.pencil,
      thread: THREAD_PX,
    }).map(shapeSvg),
  )

interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

const shownThrough = (box: Box, kind: StretchKind, id: string, { prefix }: StripPlace): Svg[] => [
  tag('clipPath', { id }, tag('rect', { ...box })),
  tag('g', { 'clip-path': `url(#${id})` }, tag('use', { href: `#${prefix}-${kind}` })),
]

/** The word on a piece of paper, where it fits. */
function wordIn({ x, y, width, height }: Box, word: string, look: Look): Svg | null {
  const wordWidth = textWidth(word, look.size.small) + 8
  const middle = x + width / 2
  return wordWidth > width
    ? null
    : tag(
        'g',
        { 'font-size': look.size.small, 'text-anchor': 'middle', 'data-part': 'word' },
        tag('rect', {
          x: middle - wordWidth / 2,
          y: y + 2,
          width: wordWidth,
          height: height - 4,
          fill: look.paper,
        }),
        words(middle, y + height / 2 + look.size.small * 0.36, word, { fill: look.ink }),
      )
}
