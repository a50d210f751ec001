import type { LogForceUnit } from '../../../src/core/units/force.ts'

/**
 * A pull whose truth is known, as many programs and boards would write it. Invented, none is a real export.
 */
export interface WorldExport {
  readonly name: string
  readonly text: string
  /** What must be read; `null` where the file must be asked about or refused. */
  readonly want: {
    readonly peakN: number
    readonly unit: LogForceUnit | null
    readonly samples?: number
    readonly stepS?: number
  } | null
}

export interface Row {
  readonly i: number
  readonly t: number
  readonly f: number
  readonly x: number
}

export const KGF = 9.80665
export const GF = 9.80665e-3
export const LBF = 4.4482216152605

/** Rest, a rise that bends over to the peak at 70 %, a break, rest. */
function forceAt(i: number, rows: number, peak: number): number {
  const top = Math.floor(rows * 0.7)
  if (i < 20 || i > top) return 0.001 * peak * (((i * 7) % 5) - 2)
  return peak * Math.sin((((i - 20) / (top - 20)) * Math.PI) / 2) ** 1.2
}

export const rows = (peak: number, count = 120, stepS = 0.1): Row[] =>
  Array.from({ length: count }, (_, i) => ({
    i,
    t: i * stepS,
    f: forceAt(i, count, peak),
    x: i * 0.05 + 0.0007 * i * i,
  }))

export const comma = (text: string): string => text.replace('.', ',')
export const d = (value: number, digits = 3): string => value.toFixed(digits)
export const dc = (value: number, digits = 3): string => comma(d(value, digits))
export const two = (value: number): string => String(value).padStart(2, '0')
export const seconds = (value: number, digits = 3): string =>
  value.toFixed(digits).padStart(digits === 0 ? 2 : digits + 3, '0')
export const iso = (r: Row): string => new Date(1.6e12 + r.t * 1000).toISOString()

/** `12.840,50`, `12 840,50`, `12'840.50`. */
export function grouped(value: number, mark: string, decimal: string): string {
  const [whole = '', fraction = ''] = Math.abs(value).toFixed(2).split('.')
  return `${value < 0 ? '-' : ''}${whole.replace(/\B(?=(\d{3})+$)/g, mark)}${decimal}${fraction}`
}

export const body = (peak: number, row: (r: Row) => string, end = '\n', count = 120, stepS = 0.1): string =>
  rows(peak, count, stepS).map(row).join(end)

/**
 * A list of exports, and what adds to it: those that must be read so, and those that must be asked about or
 * refused.
 */
export function exportsList(): {
  readonly all: readonly WorldExport[]
  readonly reads: (
    name: string,
    text: string,
    peakN: number,
    unit: LogForceUnit | null,
    samples?: number,
    stepS?: number,
  ) => void
  readonly asks: (name: string, text: string) => void
} {
  const all: WorldExport[] = []
  return {
    all,
    reads(name, text, peakN, unit, samples = 120, stepS = 0.1) {
      const counted = { ...(samples > 0 ? { samples } : {}), ...(stepS > 0 ? { stepS } : {}) }
      all.push({ name, text, want: { peakN, unit, ...counted } })
    },
    asks(name, text) {
      all.push({ name, text, want: null })
    },
  }
}
