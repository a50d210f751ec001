import { scaleLinear } from 'd3-scale'
import type { ShownUnit } from '../../../core/units/force.ts'
import { SELVEDGE_PX } from '../Selvedge.tsx'
import type { Plane } from './paint.ts'
import type { CurvePeak } from './types.ts'
import type { View } from './view.ts'

const NARROW_PX = 560
const AXIS_PX = 40
const ROW_PX = 18

/** Where the parts of a curve lie in its box, in CSS pixels; `selvedgeY` and `axisY` from the top of the plot. */
export interface Layout {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly width: number
  readonly height: number
  readonly selvedgeY: number
  readonly axisY: number
  readonly withNewton: boolean
}

/** `mostRows`: of words over the plot. */
export function layoutOf(
  size: { readonly width: number; readonly height: number },
  unit: ShownUnit,
  mostRows = 5,
): Layout {
  const narrow = size.width < NARROW_PX
  const left = narrow ? 44 : 60
  const withNewton = unit !== 'N' && !narrow
  const right = withNewton ? 56 : 14
  // Words over the plot take no more than a quarter of it.
  const rows = Math.max(2, Math.min(mostRows, Math.floor((0.25 * size.height) / ROW_PX)))
  const top = rows * ROW_PX + 14
  const height = Math.max(0, size.height - top - 6 - SELVEDGE_PX - 4 - AXIS_PX)
  const selvedgeY = height + 6
  return {
    left,
    right,
    top,
    width: Math.max(0, size.width - left - right),
    height,
    selvedgeY,
    axisY: selvedgeY + SELVEDGE_PX + 4,
    withNewton,
  }
}

/** The plane with room for the peak's interval and for nought, its ends at round figures. */
export function planeOf(
  { width, height }: Layout,
  view: View,
  seenN: readonly [number, number] | null,
  peak: CurvePeak | null,
): Plane {
  const low = Math.min(0, seenN?.[0] ?? 0)
  const high = Math.max(low, seenN?.[1] ?? 1, peak?.highN ?? low, peak?.forceN ?? low)
  const [from, to] = peak === null && seenN ? withRoom(seenN) : [low, high > low ? high : low + 1]
  const [lowN = from, highN = to] = scaleLinear().domain([from, to]).nice().domain()
  return { view, lowN, highN, width, height }
}

/** Fitted to what is seen, with a twentieth to spare. */
function withRoom([low, high]: readonly [number, number]): [number, number] {
  const room = 0.05 * (high - low) || 0.5
  return [low - room, high + room]
}
