import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { DARK, LIGHT, type Look } from '../../../src/publish/figure/look.ts'
import { goesOn } from '../../../src/publish/report/goesOn.ts'

const css = readFileSync(new URL('../../../src/web/theme/tokens.css', import.meta.url), 'utf8')

/** The custom properties of one block of the file. */
function tokensOf(selector: string): Record<string, string> {
  const block = css.slice(css.indexOf(`${selector} {`)).split('}')[0] ?? ''
  return Object.fromEntries([...block.matchAll(/--([a-z]+): (#[0-9a-f]{6})/g)].map(m => [m[1], m[2]]))
}

/** Relative luminance and contrast: WCAG 2.2, definitions of "relative luminance" and "contrast ratio". */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map(at => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}
const contrast = (a: string, b: string): number => {
  const [light = 0, dark = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x)
  return (light + 0.05) / (dark + 0.05)
}

const themes: readonly [string, Look][] = [
  [':root', LIGHT],
  [':root[data-theme="dark"]', DARK],
]

describe.each(themes)('%s', (selector, look) => {
  const tokens = tokensOf(selector)

  test('has the colours of the figures', () => {
    const { paper, ink, pencil, faint, rule, accent, warning } = look
    expect(tokens).toMatchObject({ paper, ink, pencil, faint, rule, accent, warning })
  })

  test.each(['paper', 'sheet'] as const)('text stands out on %s (WCAG 2.2, 1.4.3)', ground => {
    for (const name of ['ink', 'pencil', 'accent', 'warning'])
      expect(contrast(tokens[name] ?? '', tokens[ground] ?? ''), name).toBeGreaterThanOrEqual(4.5)
    expect(contrast(tokens.ink ?? '', tokens[ground] ?? '')).toBeGreaterThanOrEqual(7)
  })

  test.each(['paper', 'sheet'] as const)('edges of controls stand out on %s (WCAG 2.2, 1.4.11)', ground => {
    expect(contrast(tokens.faint ?? '', tokens[ground] ?? '')).toBeGreaterThanOrEqual(3)
  })
})

test('a box that scrolls sideways tells it in the app as in a report', () => {
  const base = readFileSync(new URL('../../../src/web/theme/base.css', import.meta.url), 'utf8')
  const plain = (style: string) => style.replace(/\s+/g, ' ').trim()
  expect(plain(base)).toContain(plain(goesOn('var(--paper)', 'var(--pencil)')))
})
