import { FONT_FAMILY } from '../figure/look.ts'
import { px, type Svg, tag } from '../figure/svg.ts'
import type { Area } from './area.ts'
import type { Dots, Shape, Stroke } from './shapes.ts'

/**
 * A picture as an SVG document, transparent where nothing is drawn; `frame` is the part of it that is wanted;
 * `title` and `description` for those who do not see it.
 */
export function shapesSvg(
  shapes: readonly Shape[],
  frame: Area,
  { title = '', description = '' }: { readonly title?: string; readonly description?: string } = {},
): string {
  const { x, y, width, height } = frame
  const told = title === '' ? [] : [tag('title', {}, title), tag('desc', {}, description)]
  return `${
    tag(
      'svg',
      {
        xmlns: 'http://www.w3.org/2000/svg',
        viewBox: `${px(x)} ${px(y)} ${px(width)} ${px(height)}`,
        width,
        height,
        role: 'img',
        'font-family': FONT_FAMILY,
        'stroke-linejoin': 'round',
      },
      ...told,
      ...shapes.map(shapeSvg),
    ).svg
  }\n`
}

/** One shape, as a piece of a picture. */
export function shapeSvg(shape: Shape): Svg {
  switch (shape.kind) {
    case 'box':
      return tag('rect', {
        x: shape.x,
        y: shape.y,
        width: shape.width,
        height: shape.height,
        rx: shape.radius,
        fill: shape.colour,
        'fill-opacity': shape.opacity === 1 ? undefined : shape.opacity,
      })
    case 'stroke':
      return tag('path', {
        d: pathOf(shape),
        fill: 'none',
        stroke: shape.colour,
        'stroke-width': shape.width,
        'stroke-linecap': shape.dashes.length > 0 ? undefined : 'round',
        'stroke-dasharray': shape.dashes.length > 0 ? shape.dashes.map(px).join(' ') : undefined,
      })
    case 'dots':
      return tag('path', {
        d: discsOf(shape),
        stroke: shape.colour,
        'stroke-width': 2 * shape.radius,
        'stroke-linecap': 'round',
      })
    case 'ring':
      return tag('circle', {
        cx: shape.x,
        cy: shape.y,
        r: shape.radius,
        fill: shape.fill,
        stroke: shape.colour,
        'stroke-width': shape.width,
      })
    case 'words':
      return tag(
        'text',
        {
          x: shape.x,
          y: shape.y,
          'font-size': shape.size,
          'font-weight': shape.bold ? 700 : undefined,
          'text-anchor': shape.anchor === 'start' ? undefined : shape.anchor,
          fill: shape.colour,
          ...(shape.halo
            ? { stroke: shape.halo.colour, 'stroke-width': shape.halo.width, 'paint-order': 'stroke' }
            : {}),
        },
        shape.text,
      )
  }
}

function pathOf({ points }: Stroke): string {
  let d = ''
  let pen = 'M'
  for (let i = 0; i < points.length; i += 2) {
    const x = points[i]!
    if (Number.isNaN(x)) {
      pen = 'M'
      continue
    }
    d += `${pen}${px(x)} ${px(points[i + 1]!)}`
    pen = 'L'
  }
  return d
}

/** Each disc as a stroke of no length with round ends: a tenth of what an outline takes. */
function discsOf({ points }: Dots): string {
  let d = ''
  for (let i = 0; i < points.length; i += 2) d += `M${px(points[i]!)} ${px(points[i + 1]!)}h0`
  return d
}
