import { CARE } from './care.ts'
import { LIGHT, type Look } from './figure/look.ts'
import { escapeXml } from './figure/svg.ts'

export interface PageSection {
  readonly heading: string
  readonly sentences: readonly string[]
  /** A figure as an SVG document, made by the functions of `figure/`. */
  readonly svg: string
}

export interface FigurePage {
  readonly title: string
  /** What the figures answer. */
  readonly question: string
  /** The answer, and what else stands at the head. */
  readonly lead: readonly string[]
  readonly sections: readonly PageSection[]
  /** `@font-face` rules with the fonts inside, so that the page looks the same everywhere. */
  readonly fontFaces: string
}

const colours = (look: Look): string =>
  `--paper: ${look.paper}; --ink: ${look.ink}; --pencil: ${look.pencil}; --rule: ${look.rule}; --accent: ${look.accent};`

const STYLE = `
:root { ${colours(LIGHT)} color-scheme: light; }
body { margin: 0; background: var(--paper); color: var(--ink); line-height: 1.5;
  font-family: 'Atkinson Hyperlegible', 'Helvetica Neue', Arial, sans-serif; font-variant-numeric: tabular-nums; }
main { max-width: 1008px; margin: 0 auto; padding: 24px; }
h1, h2 { line-height: 1.2; }
p, ul { max-width: 72ch; }
.lead { font-size: 1.25rem; }
.pencil { color: var(--pencil); }
figure { margin: 16px 0 48px; overflow-x: auto; border: 1px solid var(--rule); }
figure:focus-visible { outline: 3px solid var(--accent); }
figure svg { display: block; width: 100%; min-width: 640px; height: auto; }
@media print { figure { break-inside: avoid; } }
`

const paragraph = (text: string, name?: string): string =>
  `<p${name === undefined ? '' : ` class="${name}"`}>${escapeXml(text)}</p>`

/** Figures on one page that opens from disk and asks nothing of a network. Ends with the words of care. */
export function figurePage({ title, question, lead, sections, fontFaces }: FigurePage): string {
  const shown = sections.map(
    ({ heading, sentences, svg }) => `<section>
<h2>${escapeXml(heading)}</h2>
${sentences.map(text => paragraph(text)).join('\n')}
<figure tabindex="0" role="group" aria-label="${escapeXml(`Figure: ${heading}`)}">${svg}</figure>
</section>`,
  )
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:">
<title>${escapeXml(title)}</title>
<link rel="icon" href="data:,">
<style>${fontFaces}${STYLE}</style>
</head>
<body>
<main>
<h1>${escapeXml(title)}</h1>
${paragraph(question, 'pencil')}
${lead.map(text => paragraph(text, 'lead')).join('\n')}
${shown.join('\n')}
<section>
<h2>Care</h2>
<ul>
${CARE.map(text => `<li>${escapeXml(text)}</li>`).join('\n')}
</ul>
</section>
</main>
</body>
</html>
`
}
