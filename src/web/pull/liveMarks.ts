import { type ForceUnit, fromNewton } from '../../core/units/force.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import type { LiveEvent, LiveFigures, LiveReading } from '../../server/apiTypes.ts'
import type { CurvePeak, CurveTick } from '../parts/curve/types.ts'
import { peakOf, ticksOf } from '../read/curveMarks.ts'
import { texts } from '../texts/index.ts'

/** Digits past the decimal mark that a reading which moves by `restlessN` of itself can show; three at most. */
export function liveDecimals(restlessN: number | null, unit: ForceUnit): number {
  if (restlessN === null || !(restlessN > 0)) return 2
  return Math.min(3, Math.max(0, Math.ceil(-Math.log10(2 * fromNewton(restlessN, unit)) - 1e-9)))
}

/** A live force with its unit, to the digits that it can show. */
export const liveForce = (forceN: number, restlessN: number | null, unit: ForceUnit): string =>
  `${plainNumber(fromNewton(forceN, unit), liveDecimals(restlessN, unit))} ${unit}`

/** A live force without its unit, to the digits that it can show: whole counts where the line's are not scaled. */
export const liveNumber = (
  forceN: number,
  figures: Pick<LiveFigures, 'forceIn'> | null,
  restlessN: number | null,
  unit: ForceUnit,
  moreDigits = 0,
): string =>
  figures?.forceIn === 'counts'
    ? plainNumber(forceN, 0)
    : plainNumber(fromNewton(forceN, unit), liveDecimals(restlessN, unit) + moreDigits)

export const liveUnitWord = (figures: Pick<LiveFigures, 'forceIn'> | null, unit: ForceUnit): string =>
  figures?.forceIn === 'counts' ? texts.pull.counts : unit

/**
 * The greatest force so far. The capture keeps the last sample out of its peak until the next one tells it from a glitch;
 * on the screen the peak does not stand below the force beside it.
 */
export const peakSoFarN = (figures: LiveFigures | null): number | null =>
  figures === null || figures.peakN === null ? null : Math.max(figures.peakN, figures.forceN ?? figures.peakN)

/** What happened so far: as the capture told it, and from the first reading on as that says. */
export function liveTicks(
  events: readonly LiveEvent[],
  reading: LiveReading | null,
  unit: ForceUnit,
  restlessN: number | null,
  mark: (text: string) => string,
): CurveTick[] {
  const read = reading?.reading
  const upToS = read && reading ? reading.upToS : Number.NEGATIVE_INFINITY
  const before = read?.events.length ?? 0
  const told = events
    .filter(({ atS }) => atS > upToS)
    .map(({ id, kind, atS, beforeN, dropN }, i) => {
      const label = mark(
        `${texts.pull.eventWords[kind]}, ${plainNumber(-Math.abs(fromNewton(dropN, unit)), liveDecimals(restlessN, unit))} ${unit}`,
      )
      return {
        ...{ id: `live ${id}`, at: atS, forceN: Math.max(0, beforeN) },
        ...{ label, title: label, weight: dropN, number: before + i + 1 },
      }
    })
  if (!read || !reading) return told
  const counted = ticksOf(read, unit, { kind: 'time' }, mark)
  return [...counted.map(tick => ({ ...tick, at: tick.at + reading.toLiveS })), ...told]
}

/** The greatest force, pencilled where it stands: with its doubt once it was read. */
export function livePeak(
  top: { readonly atS: number; readonly forceN: number } | null,
  reading: LiveReading | null,
  peakN: number | null,
  unit: ForceUnit,
  restlessN: number | null,
  mark: (text: string) => string,
): CurvePeak | null {
  const read = reading?.reading ? peakOf(reading.reading, unit, { kind: 'time' }, mark) : null
  // A later pull may go higher than what was read of those before it.
  if (read && reading && (peakN === null || peakN <= read.forceN * 1.02))
    return { ...read, at: read.at + reading.toLiveS }
  if (top === null || peakN === null || !(peakN > 0)) return null
  const label = mark(liveForce(peakN, restlessN, unit))
  return { at: top.atS, forceN: peakN, lowN: null, highN: null, label }
}
