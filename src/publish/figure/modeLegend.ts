import { lineOf } from './headLines.ts'
import type { Look } from './look.ts'
import { modeMark } from './modeMark.ts'
import { type Svg, tag, words } from './svg.ts'
import { textWidth } from './textWidth.ts'

/** Which mark is which failure mode, in as many lines as it takes; `null` where there is but one. */
export function modeLegend(
  modes: readonly (string | null)[],
  { x, y, toX, look }: { x: number; y: number; toX: number; look: Look },
): { svg: Svg; height: number } | null {
  if (modes.filter(m => m !== null).length < 2) return null
  const { small } = look.size
  let at = { x, y }
  const items = modes.map((mode, i) => {
    const text = mode ?? 'not noted'
    const width = 36 + textWidth(text, small)
    if (at.x > x && at.x + width - 18 > toX) at = { x, y: at.y + lineOf(small) }
    const item = tag(
      'g',
      {},
      modeMark(i, at.x + 6, at.y - small / 3, { colour: look.pencil, paper: look.paper, open: false }),
      words(at.x + 18, at.y, text, { 'font-size': small, fill: look.pencil }),
    )
    at = { x: at.x + width, y: at.y }
    return item
  })
  return { svg: tag('g', {}, ...items), height: at.y - y + 1.6 * small }
}
