import bold from '../../../../assets/fonts/AtkinsonHyperlegible-Bold.ttf?inline'
import regular from '../../../../assets/fonts/AtkinsonHyperlegible-Regular.ttf?inline'
import { fontFace } from '../../../publish/figure/embedFonts.ts'

const WEIGHTS = [
  [400, regular],
  [700, bold],
] as const

/** The bytes behind a data address, still as base64. */
const base64Of = (address: string): string => address.slice(address.indexOf(',') + 1)

/** The shipped fonts as CSS: letter for letter what the command line puts into its pages. */
export const fontFaces = (): string =>
  WEIGHTS.map(([weight, address]) => fontFace(weight, base64Of(address))).join('')

let loading: Promise<void> | null = null

/** Makes them known to the canvases of this thread. From their bytes: no policy of a page stands in the way. */
export const loadFonts = (): Promise<void> => {
  loading ??= load()
  return loading
}

async function load(): Promise<void> {
  const { fonts } = globalThis as unknown as { readonly fonts: FontFaceSet }
  for (const [weight, address] of WEIGHTS) {
    const bytes = Uint8Array.from(atob(base64Of(address)), letter => letter.charCodeAt(0))
    const face = new FontFace('Atkinson Hyperlegible', bytes, { weight: String(weight) })
    await face.load()
    fonts.add(face)
  }
}
