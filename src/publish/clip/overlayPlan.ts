import { fromNewton } from '../../core/units/force.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import type { Area } from './area.ts'
import { numeralWidth } from './numeral.ts'
import type { ClipTrack } from './track.ts'

/** Where the parts of an overlay stand, in pixels of the clip. */
export interface OverlayPlan {
  /** The plate under all. */
  readonly plate: Area
  /** One px of a clip whose shorter side is 1080 px. */
  readonly unitPx: number
  /** Right end and baseline of the numeral. */
  readonly numeral: { readonly x: number; readonly y: number; readonly size: number }
  /** Left end of the lines of text, and their baselines. */
  readonly text: { readonly x: number; readonly width: number }
  readonly nameY: number
  readonly peakY: number
  readonly noteY: number
  /** The curve, its selvedge below it. */
  readonly curve: Area
  readonly selvedge: Area
  /** Baseline of the news of an event, above the curve. */
  readonly newsY: number
}

/** A clip this much wider than tall has the numeral beside the curve, any other above it. */
const WIDE = 1.2

/**
 * The plan for a clip of any size. The plate lies at the foot of the picture, within the outer twentieth that
 * players and phones may cover.
 */
export function overlayPlan(width: number, height: number, tracks: readonly ClipTrack[]): OverlayPlan {
  const u = Math.min(width, height) / 1080
  const margin = 54 * u
  const pad = 32 * u
  const wide = width >= WIDE * height
  const plateHeight = (wide ? 330 : 640) * u
  const plate = {
    x: margin,
    y: height - margin - plateHeight,
    width: width - 2 * margin,
    height: plateHeight,
  }
  const columnWidth = wide ? 0.33 * plate.width : plate.width - 2 * pad
  const left = plate.x + pad
  const unitWidth = 110 * u
  const em = Math.max(...tracks.map(widestEm), 2)
  const size = Math.min(190 * u, (columnWidth - unitWidth) / em)
  const numeralY = plate.y + 232 * u
  const top = wide ? plate.y + 74 * u : plate.y + 386 * u
  const curveX = wide ? left + columnWidth + pad : left
  const selvedgeHeight = 26 * u
  const bottom = plate.y + plate.height - 24 * u
  const curveWidth = plate.x + plate.width - pad - curveX
  return {
    plate,
    unitPx: u,
    numeral: { x: left + em * size, y: numeralY, size },
    text: { x: left, width: columnWidth },
    nameY: plate.y + 50 * u,
    peakY: numeralY + 52 * u,
    noteY: numeralY + 82 * u,
    curve: { x: curveX, y: top, width: curveWidth, height: bottom - selvedgeHeight - 6 * u - top },
    selvedge: { x: curveX, y: bottom - selvedgeHeight, width: curveWidth, height: selvedgeHeight },
    // Clear of the ticks that stand over the curve.
    newsY: top - 32 * u,
  }
}

/** The widest number that the track will show, in em. */
function widestEm({ lowN, highN, unit, decimals }: ClipTrack): number {
  const words = [lowN, highN].map(forceN => plainNumber(fromNewton(forceN, unit), decimals))
  return Math.max(...words.map(word => numeralWidth(word, 1)))
}
