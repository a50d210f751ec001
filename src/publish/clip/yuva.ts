import type { Area } from './area.ts'

/**
 * A picture as video has it: luma, two halved planes of colour, and opacity, one after the other (I420A).
 * Colours are those of ITU-R BT.709 with 16 to 235 for black to white, opacity runs from 0 to 255. Colour is
 * not multiplied with it.
 */
export interface YuvaPicture {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array<ArrayBuffer>
  /**
   * Two halves of the same bytes, each a picture without opacity (I420): the colours, and the opacity as
   * grey.
   */
  readonly colour: Uint8Array<ArrayBuffer>
  readonly alpha: Uint8Array<ArrayBuffer>
}

const chroma = (length: number): number => (length + 1) >> 1

/** Luma coefficients of red and blue, Rec. ITU-R BT.709-6, item 3.2; what is left is green's. */
const KR = 0.2126
const KB = 0.0722
const KG = 1 - KR - KB
/** Sixteenths of a bit: whole numbers are the quickest. */
const ONE = 65_536
const whole = (share: number): number => Math.round(share * ONE)
/** Levels of luma and of colour, BT.709-6, item 4.6: 219 and 224 steps of 255. */
const YR = whole((KR * 219) / 255)
const YG = whole((KG * 219) / 255)
const YB = whole((KB * 219) / 255)
const U_SCALE = 224 / 255 / (2 * (1 - KB))
const V_SCALE = 224 / 255 / (2 * (1 - KR))
const UR = whole(-KR * U_SCALE)
const UG = whole(-KG * U_SCALE)
const UB = whole((1 - KB) * U_SCALE)
const VR = whole((1 - KR) * V_SCALE)
const VG = whole(-KG * V_SCALE)
const VB = whole(-KB * V_SCALE)
const HALF = ONE / 2

const lumaOf = (r: number, g: number, b: number): number => 16 + ((YR * r + YG * g + YB * b + HALF) >> 16)

export type Rgb = readonly [red: number, green: number, blue: number]

export const rgbOf = (colour: string): Rgb => [
  Number.parseInt(colour.slice(1, 3), 16),
  Number.parseInt(colour.slice(3, 5), 16),
  Number.parseInt(colour.slice(5, 7), 16),
]

/**
 * A picture with nothing on it. What cannot be seen still has a colour, which bleeds into the rim of what can
 * when colours are halved and compressed: `ground` is the one that does no harm.
 */
export function clearYuva(width: number, height: number, ground: Rgb): YuvaPicture {
  const size = width * height
  const half = chroma(width) * chroma(height)
  const bytes = new Uint8Array(2 * size + 4 * half)
  const data = bytes.subarray(0, 2 * size + 2 * half)
  const [r, g, b] = ground
  data.fill(lumaOf(r, g, b), 0, size)
  data.fill(128 + ((UR * r + UG * g + UB * b + HALF) >> 16), size, size + half)
  data.fill(128 + ((VR * r + VG * g + VB * b + HALF) >> 16), size + half, size + 2 * half)
  bytes.fill(128, 2 * size + 2 * half)
  return {
    width,
    height,
    data,
    colour: bytes.subarray(0, size + 2 * half),
    alpha: bytes.subarray(size + 2 * half),
  }
}

/**
 * Puts a part of the picture in place: `rgba` holds its rows, colour not multiplied with opacity. The part
 * begins at even pixels, and ends at even ones or at the picture's edge.
 */
export function paintYuva(picture: YuvaPicture, rgba: Uint8ClampedArray, part: Area, ground: Rgb): void {
  const { width, height, data } = picture
  const { x: left, y: top } = part
  if (left % 2 !== 0 || top % 2 !== 0)
    throw new RangeError(`a part begins at even pixels, got ${left}, ${top}`)
  const size = width * height
  const halfWidth = chroma(width)
  const uAt = size
  const vAt = size + halfWidth * chroma(height)
  const aAt = vAt + halfWidth * chroma(height)
  const [gr, gg, gb] = ground
  for (let y = 0; y < part.height; y += 2) {
    const rows = Math.min(2, part.height - y)
    for (let x = 0; x < part.width; x += 2) {
      const columns = Math.min(2, part.width - x)
      let r = 0
      let g = 0
      let b = 0
      for (let dy = 0; dy < rows; dy++) {
        let from = 4 * ((y + dy) * part.width + x)
        let to = (top + y + dy) * width + left + x
        for (let dx = 0; dx < columns; dx++, from += 4, to++) {
          const alpha = rgba[from + 3]!
          const pr = alpha === 0 ? gr : rgba[from]!
          const pg = alpha === 0 ? gg : rgba[from + 1]!
          const pb = alpha === 0 ? gb : rgba[from + 2]!
          data[to] = lumaOf(pr, pg, pb)
          data[aAt + to] = alpha
          r += pr
          g += pg
          b += pb
        }
      }
      const n = rows * columns
      r = (r / n) | 0
      g = (g / n) | 0
      b = (b / n) | 0
      const at = ((top + y) >> 1) * halfWidth + ((left + x) >> 1)
      data[uAt + at] = 128 + ((UR * r + UG * g + UB * b + HALF) >> 16)
      data[vAt + at] = 128 + ((VR * r + VG * g + VB * b + HALF) >> 16)
    }
  }
}
