import { FONT_FAMILY, type Look } from './look.ts'

/** A piece of SVG. Only the functions of this file make one, so that text from a log is always escaped. */
export interface Svg {
  readonly svg: string
}

type Attribute = string | number | undefined

/** Text as it may stand in an element or an attribute; characters that XML forbids are dropped. */
export const escapeXml = (text: string): string =>
  text
    .toWellFormed()
    .replace(/[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu, '')
    .replace(/[&<>"']/g, sign => `&#${sign.charCodeAt(0)};`)

/** Coordinates to a hundredth of a pixel: the same bytes on every machine, and half the size. */
export const px = (value: number): string => {
  const text = value.toFixed(2)
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text
}

const attributes = (given: Readonly<Record<string, Attribute>>): string =>
  Object.entries(given)
    .filter((entry): entry is [string, string | number] => entry[1] !== undefined)
    .map(([name, value]) => ` ${name}="${typeof value === 'number' ? px(value) : escapeXml(value)}"`)
    .join('')

/** An element with children; strings among the children are text and are escaped. */
export function tag(
  name: string,
  given: Readonly<Record<string, Attribute>>,
  ...children: readonly (Svg | string | null)[]
): Svg {
  const inside = children
    .map(child => (child === null ? '' : typeof child === 'string' ? escapeXml(child) : child.svg))
    .join('')
  return {
    svg:
      inside === '' ? `<${name}${attributes(given)}/>` : `<${name}${attributes(given)}>${inside}</${name}>`,
  }
}

export const line = (
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  given: Readonly<Record<string, Attribute>>,
): Svg => tag('line', { x1, y1, x2, y2, ...given })

export const words = (
  x: number,
  y: number,
  text: string,
  given: Readonly<Record<string, Attribute>> = {},
): Svg => tag('text', { x, y, ...given }, text)

/** Paper around letters, so that what is drawn under them does not touch them. */
export const rim = ({ paper }: Look): Readonly<Record<string, Attribute>> => ({
  stroke: paper,
  'stroke-width': 3,
  'paint-order': 'stroke',
})

const PRACTICE_MARK = 'practice on the pretend rig'

/** A whole figure, with its title and its description for those who do not see it. */
export function svgDocument(
  {
    width,
    height,
    title,
    description,
    look,
    shapeHeight = null,
    data = {},
    practice = false,
  }: {
    width: number
    height: number
    title: string
    description: string
    look: Look
    /** Height that the figure is to have; a drawing that is higher is shown smaller, whole, in that shape. */
    shapeHeight?: number | null
    /** `data-` attributes, for a page that makes it move. */
    data?: Readonly<Record<`data-${string}`, Attribute>>
    /** Something in it is practice on the pretend rig: that stands in its corner, whatever else is cut short. */
    practice?: boolean
  },
  ...children: readonly (Svg | null)[]
): string {
  const shown = Math.max(height, shapeHeight ?? 0)
  const wide = shapeHeight !== null && height > shapeHeight ? (width * height) / shapeHeight : width
  const left = (width - wide) / 2
  return `${
    tag(
      'svg',
      {
        xmlns: 'http://www.w3.org/2000/svg',
        viewBox: `${px(left)} 0 ${px(wide)} ${px(shown)}`,
        width,
        height: shapeHeight ?? height,
        role: 'img',
        'font-family': FONT_FAMILY,
        'font-size': look.size.label,
        fill: look.ink,
        ...data,
      },
      tag('title', {}, title),
      tag('desc', {}, description),
      tag('rect', { x: left === 0 ? undefined : left, width: wide, height: shown, fill: look.paper }),
      ...children,
      practice
        ? words(width - 12, look.size.small, PRACTICE_MARK, {
            'text-anchor': 'end',
            'font-size': look.size.small,
            'font-weight': 700,
            fill: look.warning,
            ...rim(look),
          })
        : null,
    ).svg
  }\n`
}
