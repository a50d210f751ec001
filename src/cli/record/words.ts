import type { CaptureState, LiveEvent, LiveFigures } from '../../capture/index.ts'
import { type ForceUnit, fromNewton, plainNumber } from '../../core/index.ts'

/** Unit of the live figures; `counts` where nothing turns them into a force. */
export type ShownUnit = ForceUnit | 'counts'

/** Decimals that make a figure of about four digits, the same for all figures near `scaleN`. */
export function liveDecimals(scaleN: number, unit: ShownUnit): number {
  const scale = Math.abs(inUnit(scaleN, unit))
  if (unit === 'counts') return 0
  return scale >= 1000 ? 0 : scale >= 100 ? 1 : scale >= 10 ? 2 : 3
}

export const inUnit = (forceN: number, unit: ShownUnit): number =>
  unit === 'counts' ? forceN : fromNewton(forceN, unit)

function liveForce(forceN: number | null, unit: ShownUnit, decimals: number): string {
  return forceN === null ? '–' : `${plainNumber(inUnit(forceN, unit), decimals)} ${unit}`
}

export function stateWords({ phase, pulls, startedBy, endedBy, reason }: CaptureState): string {
  switch (phase) {
    case 'waiting':
      return 'waiting'
    case 'armed':
      return 'armed: recording begins when the force rises'
    case 'recording':
      return `recording${startedBy === 'force' ? ', begun by the force' : ''}${pulls > 0 ? `, pull ${pulls}` : ''}`
    case 'rest':
      return `at rest after pull ${pulls}; still recording`
    case 'finished':
      return endedBy === 'rest' ? 'finished by itself, at rest' : 'finished'
    case 'given-up':
      return `given up${reason ? `: ${reason}` : ''}`
  }
}

const KINDS: Readonly<Record<LiveEvent['kind'], string>> = {
  drop: 'drop',
  'partial-break': 'partial break',
  break: 'break',
  slip: 'slip',
  unload: 'unload',
  none: 'no drop after all',
}

export function eventWords(event: LiveEvent, unit: ShownUnit): string {
  const decimals = liveDecimals(event.beforeN, unit)
  const from = liveForce(event.beforeN, unit, decimals)
  return `${KINDS[event.kind]}: ${from} → ${liveForce(event.afterN, unit, decimals)}`
}

/** Everything but the force itself, in one line. */
export function figuresLine(figures: LiveFigures, unit: ShownUnit, decimals: number): string {
  const rate =
    figures.rateNPerS === null ? null : `${plainNumber(inUnit(figures.rateNPerS, unit), decimals)} ${unit}/s`
  const newton =
    unit === 'N' || unit === 'counts' || figures.forceN === null
      ? null
      : `= ${plainNumber(figures.forceN, liveDecimals(figures.peakN ?? figures.forceN, 'N'))} N`
  return [
    newton,
    `peak ${liveForce(figures.peakN, unit, decimals)}`,
    rate,
    figures.shareOfCapacity === null ? null : `${(100 * figures.shareOfCapacity).toFixed(0)} % of capacity`,
    figures.sampleRateHz === null ? null : `${figures.sampleRateHz.toPrecision(3)} Hz`,
    `${figures.samples} samples`,
    troubleWords(figures),
  ]
    .filter(part => part !== null)
    .join('   ')
}

function troubleWords({ troubles }: LiveFigures): string | null {
  const parts = [
    troubles.lost > 0 ? `${troubles.lost} lost` : null,
    troubles.garbled > 0 ? `${troubles.garbled} unreadable` : null,
    troubles.resets > 0 ? `${troubles.resets} resets` : null,
  ].filter(part => part !== null)
  return parts.length > 0 ? parts.join(', ') : null
}
