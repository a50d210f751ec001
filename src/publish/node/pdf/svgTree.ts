/** An element of one of our own figures. */
export interface SvgElement {
  readonly name: string
  readonly given: Readonly<Record<string, string>>
  readonly children: readonly SvgElement[]
  /** What stands in it as text. */
  readonly text: string
}

const PIECE = /<(\/?)([A-Za-z]+)((?:\s+[\w:-]+="[^"]*")*)\s*(\/?)>|([^<]+)/g
const ATTRIBUTE = /([\w:-]+)="([^"]*)"/g

/** Text as `escapeXml` wrote it, as it was. */
const unescaped = (text: string): string =>
  text.replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))

/** A figure that `svgDocument` made, as a tree. It knows what `figure/svg.ts` writes, not SVG at large. */
export function svgTree(svg: string): SvgElement {
  const top = { name: '', given: {}, children: [] as SvgElement[], text: '' }
  const open: { name: string; given: Record<string, string>; children: SvgElement[]; text: string }[] = [top]
  for (const [, closes, name, attributes = '', isEmpty, text] of svg.matchAll(PIECE)) {
    const inside = open.at(-1)!
    if (text !== undefined) inside.text += unescaped(text)
    else if (closes !== '') open.pop()
    else {
      const given: Record<string, string> = {}
      for (const [, key, value] of attributes.matchAll(ATTRIBUTE)) given[key!] = unescaped(value!)
      const element = { name: name!, given, children: [], text: '' }
      inside.children.push(element)
      if (isEmpty === '') open.push(element)
    }
  }
  const [root] = top.children
  if (root === undefined || open.length !== 1) throw new Error('a figure is one whole element')
  return root
}
