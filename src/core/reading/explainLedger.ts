import { fromNewton, type ShownUnit } from '../units/force.ts'
import { decimalsFor, type ForceEnds, plainNumber, showForce, threeDigits } from '../units/showForce.ts'
import type { BudgetLine, Reading } from './document.ts'
import { asSaid } from './saidBy.ts'

/** Shows a force in the person's unit, with its doubt where there is one: its ends where they are unlike. */
export type ShowForce = (forceN: number, halfWidthN: number | null, ends?: ForceEnds | null) => string

export const showForceIn =
  (unit: ShownUnit): ShowForce =>
  (forceN, halfWidthN, ends) =>
    showForce(forceN, halfWidthN, unit, ends)

export const inNewton: ShowForce = showForceIn('N')

/** The list under a peak force of everything that made it. */
export interface Ledger {
  /** What is added up, first the greatest reading; the amounts sum to `totalN`. */
  readonly lines: readonly { readonly amountN: number; readonly text: string }[]
  readonly totalN: number
  /** Half-widths of 95 % intervals, greatest first; together they make the doubt as the root of their squares. */
  readonly halfWidths: readonly { readonly halfWidthN: number; readonly text: string }[]
}

/** A share of the whole doubt below which a part is not worth a word. */
const WORTH_SAYING = 0.02

/** Everything that made the peak force; `null` where there is none. */
export function ledgerOf(reading: Reading, show: ShowForce = inNewton): Ledger | null {
  const { valueN, indicatedN, atS } = reading.results.peakForce
  if (valueN === null || indicatedN === null) return null
  const at = atS === null ? '' : `, at ${atS.toFixed(2)} s`
  const lines = [{ amountN: indicatedN, text: `greatest reading${at}` }]
  for (const part of reading.budget)
    if (part.correctionN !== 0)
      lines.push({ amountN: part.correctionN, text: correctionText(part, reading, show) })
  const restN = valueN - lines.reduce((sum, line) => sum + line.amountN, 0)
  if (Math.abs(restN) > 1e-6 * Math.max(1, Math.abs(valueN)))
    lines.push({ amountN: restN, text: 'noise of that one reading, taken out by its neighbours' })
  return { lines, totalN: valueN, halfWidths: halfWidths(reading.budget) }
}

/** A ledger with its amounts as text without their unit, those of the sum apart from their signs. */
export interface LedgerAmounts {
  readonly lines: readonly { readonly sign: '' | '+' | '−'; readonly amount: string; readonly text: string }[]
  readonly total: string
  readonly halfWidths: readonly { readonly amount: string; readonly text: string }[]
}

/** All to the digits of the whole doubt, so that the eye can add them up. */
export function ledgerAmounts({ lines, totalN, halfWidths }: Ledger, unit: ShownUnit): LedgerAmounts {
  const doubt = fromNewton(Math.hypot(...halfWidths.map(({ halfWidthN }) => halfWidthN)), unit)
  const shown = (forceN: number): string => {
    const force = fromNewton(forceN, unit)
    return doubt > 0 ? plainNumber(force, decimalsFor(doubt)) : threeDigits(force)
  }
  return {
    lines: lines.map(({ amountN, text }, i) => ({
      sign: amountN < 0 ? '−' : i === 0 ? '' : '+',
      amount: shown(Math.abs(amountN)),
      text,
    })),
    total: shown(totalN),
    halfWidths: halfWidths.map(({ halfWidthN, text }) => ({ amount: shown(halfWidthN), text })),
  }
}

function correctionText({ source, correctionN }: BudgetLine, reading: Reading, show: ShowForce): string {
  if (source === 'zero') {
    const level = show(-correctionN, null)
    const sayer = reading.zeros.find(({ saidBy }) => saidBy !== undefined)?.saidBy
    if (sayer !== undefined) return `without load the cell read ${level}, ${asSaid(sayer)}`
    if (reading.results.peakForce.zero === 'as-indicated')
      return `the empty cell was not seen; readings of the wrong sign last at ${level}, and the zero cannot lie above them`
    return reading.results.peakForce.zero === 'set-under-load'
      ? `zero was set with the slack taken up: without load the cell read ${level}`
      : `without load the cell read ${level}`
  }
  if (source === 'between samples') {
    const apart = (1 / reading.recording.rateHz).toPrecision(2)
    if (correctionN < 0)
      return 'the greatest reading stands out of its neighbours by noise: the smoothed top is taken'
    return `between two readings, ${Number(apart)} s apart, the force went on growing: what is likely of it is added`
  }
  return source
}

/** Noise and display step are one matter to the reader. */
function halfWidths(budget: readonly BudgetLine[]): Ledger['halfWidths'] {
  const fine = budget.filter(part => part.source === 'noise' || part.source === 'display step')
  const parts = [
    ...budget.filter(part => !fine.includes(part)).map(p => ({ standardN: p.standardN, text: p.source })),
    { standardN: Math.hypot(...fine.map(p => p.standardN)), text: fine.map(p => p.source).join(' and ') },
  ]
  const wholeN = Math.hypot(...parts.map(p => p.standardN))
  return parts
    .filter(p => p.standardN > WORTH_SAYING * wholeN)
    .map(p => ({ halfWidthN: 2 * p.standardN, text: p.text }))
    .sort((a, b) => b.halfWidthN - a.halfWidthN)
}
