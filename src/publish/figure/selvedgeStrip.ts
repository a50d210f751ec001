import { STRETCH_WORDS, type Stretch, type StretchKind } from '../../core/reading/selvedge.ts'
import { type Look, SIZE } from './look.ts'
import { line, type Svg, tag, textWidth, words } from './svg.ts'

export const SELVEDGE_PX = 18

/** The woven patterns: dots at rest, plain while loading, hatched on hold, hatched back on unload, crossed on re-grip. */
export function selvedgePatterns(look: Look): Svg {
  const weave = (kind: StretchKind, ...threads: Svg[]) =>
    tag(
      'pattern',
      { id: `selvedge-${kind}`, width: 6, height: 6, patternUnits: 'userSpaceOnUse' },
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
  { xOf, y, look }: { xOf: (timeS: number) => number; y: number; look: Look },
): Svg {
  const pieces = stretches.flatMap(stretch => {
    const from = xOf(stretch.fromS)
    const width = Math.max(0, xOf(stretch.toS) - from)
    const word = STRETCH_WORDS[stretch.kind]
    const wordWidth = textWidth(word, SIZE.small) + 8
    const title = `${word}, ${(stretch.toS - stretch.fromS).toFixed(1)} s`
    const middle = from + width / 2
    const plain = stretch.kind === 'loading' || stretch.kind === 'gap'
    return [
      tag(
        'rect',
        {
          x: from,
          y,
          width,
          height: SELVEDGE_PX,
          fill: plain ? 'none' : `url(#selvedge-${stretch.kind})`,
          stroke: stretch.kind === 'gap' ? 'none' : look.pencil,
          'stroke-width': 0.75,
        },
        tag('title', {}, title),
      ),
      wordWidth > width
        ? null
        : tag(
            'g',
            { 'font-size': SIZE.small, 'text-anchor': 'middle' },
            tag('rect', {
              x: middle - wordWidth / 2,
              y: y + 2,
              width: wordWidth,
              height: SELVEDGE_PX - 4,
              fill: look.paper,
            }),
            words(middle, y + SELVEDGE_PX - 5, word, { fill: look.ink }),
          ),
    ]
  })
  return tag('g', {}, ...pieces)
}
