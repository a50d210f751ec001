import { type Look, PAGE_SIZES, type TypeSizes } from './look.ts'

/** What a figure is made for: its size in px, the type that is legible there, and device pixels to a px of a picture. */
export interface Shape {
  readonly width: number
  /** `null`: as high as the figure itself likes. */
  readonly height: number | null
  readonly size: TypeSizes
  readonly pngScale: number
}

/**
 * `page`: among text. `wide`: 16 : 9, a picture of 1920 × 1080 for a film. `square`: 1080 × 1080. `upright`: 4 : 5,
 * 1080 × 1350, for a phone: shown 360 px wide its smallest type is 12 px high.
 */
export const SHAPES = {
  page: {
    width: 960,
    height: null,
    size: PAGE_SIZES,
    pngScale: 2,
  },
  wide: {
    width: 960,
    height: 540,
    size: { numeral: 36, heading: 22, label: 16, small: 15 },
    pngScale: 2,
  },
  square: {
    width: 640,
    height: 640,
    size: { numeral: 34, heading: 21, label: 17, small: 16 },
    pngScale: 1.6875,
  },
  upright: {
    width: 480,
    height: 600,
    size: { numeral: 32, heading: 20, label: 17, small: 16 },
    pngScale: 2.25,
  },
} as const satisfies Readonly<Record<string, Shape>>

export type ShapeName = keyof typeof SHAPES
export const SHAPE_NAMES = Object.keys(SHAPES) as readonly ShapeName[]

/** The look in the type of a shape. */
export const lookIn = (look: Look, { size }: Shape): Look => ({ ...look, size })

/** Whether a figure has no room beside its plot, so that what stands there must go over or under it. */
export const isNarrow = (width: number, { size }: Look): boolean => width < 50 * size.small
