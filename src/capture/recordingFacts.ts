import type { Assumption, Note, Recording } from '../core/recording.ts'
import type { LogForceUnit } from '../core/units/force.ts'
import { threeDigits } from '../core/units/showForce.ts'
import type { TensionSign } from '../logs/meaning/tension.ts'
import type { Gathered } from './gather.ts'
import type { Columns, Header, Remark } from './journal/entries.ts'

/** What a recording tells beside its samples, whether it was held whole or went by in blocks. */

/** Share of samples that must carry a time of the device for its clock to count. */
export const STAMPED_LEAST = 0.5

export type PlacedBy = 'rate' | 'device' | 'arrival'

export const placedText = (by: PlacedBy, rateHz: number): string => {
  if (by === 'device') return 'time stamped by the device'
  return by === 'rate'
    ? `time from the rate given, ${threeDigits(rateHz)} samples a second`
    : `time of arrival, smoothed to ${threeDigits(rateHz)} samples a second`
}

export const tensionTold = (
  header: Header,
  { negative }: TensionSign,
): NonNullable<Recording['tension']> => ({
  turned: negative,
  // What a rig's line was opened with is the rig's word, no person's.
  told: header.tension !== null && header.rig === null,
})

export const notesOf = (remarks: Gathered['remarks']): Note[] =>
  remarks.map(({ remark, sample }, i) => ({ line: i + 1, sample, text: remarkText(remark) }))

const LEADS: Readonly<Record<Remark['kind'], string>> = {
  line: '',
  held: 'Not made clear by later lines: ',
  garbled: 'Unreadable: ',
  operator: '',
  zero: '',
  'line-lost': '',
  'line-back': '',
  'device-reset': '',
  turn: '',
  trouble: '',
}

const remarkText = ({ kind, text }: Remark): string => `${LEADS[kind]}${text}`

export function assumptionsOf(
  columns: Columns,
  { rateHz }: Header,
  damaged: number,
  tension: TensionSign,
): Assumption[] {
  const assumptions: Assumption[] = []
  if (columns.unitAssumed) assumptions.push({ code: 'unit-assumed', text: unitText(columns.unit) })
  if (rateHz !== null) {
    assumptions.push({
      code: 'rate-assumed',
      text: `Times count from the rate given, ${threeDigits(rateHz)} samples a second.`,
    })
  }
  if (damaged > 0) {
    assumptions.push({ code: 'rows-skipped', text: `${damaged} damaged blocks of the journal are left out.` })
  }
  return tension.assumption ? [...assumptions, tension.assumption] : assumptions
}

const unitText = (unit: LogForceUnit): string =>
  `The line does not say what its forces are in; they are taken as ${unit}. Give the unit if that is wrong.`
