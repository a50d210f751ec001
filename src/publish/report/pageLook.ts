import { DARK, LIGHT, LOOKS, type Look, type LookName, PAGE_SIZES, PRINT } from '../figure/look.ts'

/** Colours of a look that a page hands on to its figures, under the names that its style sheet has for them. */
const NAMES = ['paper', 'ink', 'pencil', 'faint', 'rule', 'accent', 'warning'] as const

/** A look whose colours are those of the page that the figure stands in, so that it follows light, dark and print. */
export const PAGE_LOOK: Look = {
  ...(Object.fromEntries(NAMES.map(name => [name, `var(--${name})`])) as Record<
    (typeof NAMES)[number],
    string
  >),
  variants: LIGHT.variants.map((_, i) => `var(--variant-${i + 1})`),
  size: PAGE_SIZES,
}

const colours = (look: Look): string =>
  [
    ...NAMES.map(name => `--${name}: ${look[name]};`),
    ...look.variants.map((colour, i) => `--variant-${i + 1}: ${colour};`),
  ].join(' ')

/** The colours as a style sheet: of one look, or of light and dark as the reader's system asks; on paper those of print. */
export function pageColours(look: LookName | 'system'): string {
  const screen =
    look === 'system'
      ? `:root { ${colours(LIGHT)} color-scheme: light dark; }\n@media (prefers-color-scheme: dark) { :root { ${colours(DARK)} } }`
      : `:root { ${colours(LOOKS[look])} color-scheme: ${look === 'dark' ? 'dark' : 'light'}; }`
  return `${screen}\n@media print { :root { ${colours(PRINT)} color-scheme: light; } }`
}
