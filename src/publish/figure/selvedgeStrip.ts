import { STRETCH_WORDS, type Stretch, type StretchKind } from '../../core/reading/selvedge.ts'
import type { Look } from './look.ts'
import { line, type Svg, tag, words } from './svg.ts'
import { textWidth } from './textWidth.ts'

/** Height of the strip. */
export const selvedgePx = ({ size }: Look): number => Math.max(18, Math.round(1.4 * size.small))

/** The woven patterns, under ids that begin with `prefix`: dots at rest, plain while loading, hatched on hold, hatched back on unload, crossed on re-grip. */
export function selvedgePatterns(look: Look, prefix: string): Svg {
  const weave = (kind: StretchKind, ...threads: Svg[]) =>
    tag(
      'pattern',
      { id: `${prefix}-${kind}`, width: 6, height: 6, patternUnits: 'userSpaceOnUse' },
      ...threads,
    )
  const thread = { stroke: look.pencil, 'stroke-width': 1 }
  const up = line(-1, 7, 7, -1, thread)
  const down = line(-1, -1, 7, 7, thread)
  return tag(
    'defs',
    {},
    weave('rest', tag('circle', { cx: 3, cy: 3, r: 0.9, fill: look.pencil })),
    weave('hold', up),
    weave('unload', down),
    weave('regrip', up, down),
  )
}

/** The strip under a curve: every stretch by its pattern, and by its word where there is room. */
export function selvedgeStrip(
  stretches: readonly Stretch[],
  { xOf, y, look, prefix }: { xOf: (timeS: number) => number; y: number; look: Look; prefix: string },
): Svg {
  const height = selvedgePx(look)
  const pieces = stretches.map(stretch => {
    const from = xOf(stretch.fromS)
    const width = Math.max(0, xOf(stretch.toS) - from)
    const word = STRETCH_WORDS[stretch.kind]
    const wordWidth = textWidth(word, look.size.small) + 8
    const middle = from + width / 2
    const plain = stretch.kind === 'loading' || stretch.kind === 'gap'
    return tag(
      'g',
      { 'data-from': stretch.fromS.toFixed(3), 'data-to': stretch.toS.toFixed(3) },
      tag('title', {}, `${word}, ${(stretch.toS - stretch.fromS).toFixed(1)} s`),
      tag('rect', {
        x: from,
        y,
        width,
        height,
        fill: plain ? 'none' : `url(#${prefix}-${stretch.kind})`,
        stroke: stretch.kind === 'gap' ? 'none' : look.pencil,
        'stroke-width': 0.75,
      }),
      wordWidth > width
        ? null
        : tag(
            'g',
            { 'font-size': look.size.small, 'text-anchor': 'middle' },
            tag('rect', {
              x: middle - wordWidth / 2,
              y: y + 2,
              width: wordWidth,
              height: height - 4,
              fill: look.paper,
            }),
            words(middle, y + height / 2 + look.size.small * 0.36, word, { fill: look.ink }),
          ),
    )
  })
  return tag('g', {}, ...pieces)
}
