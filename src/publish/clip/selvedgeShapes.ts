import { STRETCH_WORDS } from '../../core/reading/selvedge.ts'
import type { Stretch } from '../../core/reading/states.ts'
import type { Look } from '../figure/look.ts'
import { textWidth } from '../figure/textWidth.ts'
import type { Shape } from './shapes.ts'
import { weave } from './weave.ts'

export interface SelvedgePlace {
  readonly xOf: (atS: number) => number
  /** Nothing is drawn of what came later. */
  readonly untilS: number
  readonly y: number
  readonly height: number
  readonly look: Look
  /** One px of a picture whose shorter side is 1080 px. */
  readonly u: number
  /** Opacity of the paper under the strip. */
  readonly ground: number
}

/**
 * The strip under a curve as far as it has been lived through: each stretch by its weave, and by its word
 * where there is room.
 */
export function selvedgeShapes(stretches: readonly Stretch[], place: SelvedgePlace): Shape[] {
  const { xOf, untilS, y, height, look, u, ground } = place
  return stretches.flatMap((stretch): Shape[] => {
    if (stretch.fromS >= untilS || stretch.kind === 'gap') return []
    const from = xOf(stretch.fromS)
    const width = xOf(Math.min(stretch.toS, untilS)) - from
    const word = STRETCH_WORDS[stretch.kind]
    const wordWidth = textWidth(word, 22 * u) + 14 * u
    return [
      ...(ground > 0
        ? [
            {
              kind: 'box',
              x: from,
              y,
              width,
              height,
              radius: 0,
              colour: look.paper,
              opacity: ground,
            } as const,
          ]
        : []),
      ...weave(stretch.kind, {
        x: from,
        y,
        width,
        height,
        step: 9 * u,
        fromX: from + 4.5 * u,
        colour: look.pencil,
        thread: 2 * u,
      }),
      {
        kind: 'stroke',
        points: [from, y, from + width, y, from + width, y + height, from, y + height, from, y],
        width: 1.5 * u,
        colour: look.pencil,
        dashes: [],
      },
      ...(wordWidth > width - 4 * u ? [] : wordShapes(word, from + width / 2, wordWidth, place)),
    ]
  })
}

function wordShapes(
  word: string,
  middle: number,
  wordWidth: number,
  { y, height, look, u }: SelvedgePlace,
): Shape[] {
  return [
    {
      kind: 'box',
      x: middle - wordWidth / 2,
      y: y + 1.5 * u,
      width: wordWidth,
      height: height - 3 * u,
      radius: 0,
      colour: look.paper,
      opacity: 1,
    },
    {
      kind: 'words',
      x: middle,
      y: y + height / 2 + 7 * u,
      text: word,
      size: 22 * u,
      bold: false,
      anchor: 'middle',
      colour: look.ink,
      halo: null,
    },
  ]
}
