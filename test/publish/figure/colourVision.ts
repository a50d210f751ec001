/**
 * How a colour looks to people with a colour vision deficiency, and how far two colours are apart.
 *
 * Simulation: Machado, Oliveira, Fernandes, "A physiologically-based model for simulation of color vision deficiency",
 * IEEE Trans. Vis. Comput. Graph. 15 (2009), table 1, severity 1.0; applied to linear sRGB.
 * Distance: CIE 1976 L*a*b*, D65 (CIE 15:2004), from sRGB by IEC 61966-2-1.
 */
export const VISION = {
  usual: [1, 0, 0, 0, 1, 0, 0, 0, 1],
  protanopia: [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  deuteranopia: [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  tritanopia: [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
  achromatopsia: [0.2126, 0.7152, 0.0722, 0.2126, 0.7152, 0.0722, 0.2126, 0.7152, 0.0722],
} as const

export type Vision = keyof typeof VISION
type Three = [number, number, number]

const linear = (hex: string): Three => {
  const part = (at: number): number => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4
  }
  return [part(1), part(3), part(5)]
}

const times = (m: readonly number[], [r, g, b]: Three): Three => [
  m[0]! * r + m[1]! * g + m[2]! * b,
  m[3]! * r + m[4]! * g + m[5]! * b,
  m[6]! * r + m[7]! * g + m[8]! * b,
]

const XYZ = [0.4124564, 0.3575761, 0.1804375, 0.2126729, 0.7151522, 0.072175, 0.0193339, 0.119192, 0.9503041]
const WHITE: Three = [0.95047, 1, 1.08883]

function lab(rgb: Three): Three {
  const f = (t: number): number => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29)
  const [x, y, z] = times(XYZ, rgb).map((v, i) => f(v / WHITE[i]!)) as Three
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)]
}

const clipped = (rgb: Three): Three => rgb.map(v => Math.min(1, Math.max(0, v))) as Three

/** ΔE*ab of two colours (`#rrggbb`) as somebody with this vision sees them. About 2 can just be told apart side by side. */
export function apartFor(vision: Vision, a: string, b: string): number {
  const [p, q] = [a, b].map(hex => lab(clipped(times(VISION[vision], linear(hex))))) as [Three, Three]
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2])
}

/** Contrast by WCAG 2.2, 1.4.3. */
export function contrast(a: string, b: string): number {
  const [p, q] = [a, b].map(hex => times(VISION.achromatopsia, linear(hex))[0]) as [number, number]
  return (Math.max(p, q) + 0.05) / (Math.min(p, q) + 0.05)
}
