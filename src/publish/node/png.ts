import { Resvg } from '@resvg/resvg-js'
import { fontFiles } from './assets.ts'

/**
 * A figure as PNG, `scale` device pixels to a px of the figure. Only the shipped fonts are used, so that the
 * same figure gives the same picture on every machine.
 */
export function svgToPng(svg: string, { scale = 2 }: { scale?: number } = {}): Uint8Array {
  return new Resvg(svg, { fitTo: { mode: 'zoom', value: scale }, font: fontOptions() }).render().asPng()
}

/** The shipped fonts and no others. */
export function fontOptions() {
  const family = 'Atkinson Hyperlegible'
  return {
    loadSystemFonts: false,
    fontFiles: fontFiles(),
    defaultFontFamily: family,
    sansSerifFamily: family,
  }
}
