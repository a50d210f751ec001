import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Assumption, Channel, Note, Recording, Segment } from '../core/recording.ts'
import { type LogForceUnit, N_PER } from '../core/units/force.ts'
import { threeDigits } from '../core/units/showForce.ts'
import { tensionSign } from '../logs/meaning/tension.ts'
import { type Gathered, gather } from './gather.ts'
import type { Columns, JournalContents, Remark } from './journal/entries.ts'
import { tappedTurns } from './tappedTurns.ts'
import { byArrival, byDevice, byRate, type Placed } from './timing/place.ts'
import type { Troubles } from './types.ts'

/** Share of samples that must carry a time of the device for its clock to count. */
const STAMPED_LEAST = 0.5

/**
 * The recording that a journal holds: the same function makes it when a capture ends, and from a journal left behind.
 * Repeated samples are left out and late ones put in their place; every such thing is counted and noted.
 */
export function assemble(
  contents: JournalContents,
  name: string,
): Outcome<{ readonly recording: Recording; readonly troubles: Troubles }> {
  const gathered = gather(contents)
  const columns = gathered.columns
  if (columns === null || gathered.values.length === 0) {
    return wrong({
      where: name,
      what: 'no sample came while it was recorded.',
      cure: 'Look at the live force before recording: if it stands still, check cable, port, baud rate and device.',
    })
  }
  const placed = placedInTime(contents, gathered, columns)
  const tension = tensionSign(gathered.values, contents.header.tension ?? undefined)
  const perUnit = (columns.unit === 'counts' ? 1 : N_PER[columns.unit]) * (tension.negative ? -1 : 1)
  const samples = gathered.values.length
  const segments = placed.segments.map((segment): Segment => ({ ...segment, name, sha256: '' }))
  const recording: Recording = {
    name,
    sha256: '',
    timeS: placed.timeS,
    forceN: perUnit === 1 ? gathered.values : gathered.values.map(value => value * perUnit + 0),
    forceUnit: columns.unit,
    timeFrom: placed.timeFrom,
    // What a rig's line was opened with is the rig's word, no person's.
    tension: {
      turned: tension.negative,
      told: contents.header.tension !== null && contents.header.rig === null,
    },
    segments,
    channels: [
      ...columns.channels.map(
        (channel, i): Channel => ({
          ...channel,
          values: gathered.channels[i]!,
        }),
      ),
      ...tappedTurns(gathered, placed.timeS),
    ],
    notes: notesOf(gathered),
    assumptions: [...assumptionsOf(columns, contents), ...(tension.assumption ? [tension.assumption] : [])],
    understood: `${samples} samples from ${contents.header.source}: ${placed.text}, force in ${columns.unit}`,
  }
  const resets = segments.filter(segment => segment.began === 'reset').length
  return fine({
    recording,
    troubles: { ...gathered.troubles, resets: Math.max(resets, gathered.troubles.resets) },
  })
}

function placedInTime(
  { header }: JournalContents,
  gathered: Gathered,
  columns: Columns,
): Placed & { text: string } {
  if (header.rateHz !== null) {
    return {
      ...byRate(gathered, header.rateHz),
      text: `time from the rate given, ${threeDigits(header.rateHz)} samples a second`,
    }
  }
  const { stampS } = gathered
  const stamped = stampS.reduce((n, s) => n + (Number.isNaN(s) ? 0 : 1), 0)
  if (columns.stamps !== null && stamped > STAMPED_LEAST * stampS.length) {
    return { ...byDevice(gathered, columns.stamps.tickS), text: 'time stamped by the device' }
  }
  const placed = byArrival(gathered)
  return { ...placed, text: `time of arrival, smoothed to ${threeDigits(placed.rateHz)} samples a second` }
}

const notesOf = ({ remarks }: Gathered): Note[] =>
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

function assumptionsOf(columns: Columns, { header, damaged }: JournalContents): Assumption[] {
  const assumptions: Assumption[] = []
  if (columns.unitAssumed) assumptions.push({ code: 'unit-assumed', text: unitText(columns.unit) })
  if (header.rateHz !== null) {
    assumptions.push({
      code: 'rate-assumed',
      text: `Times count from the rate given, ${threeDigits(header.rateHz)} samples a second.`,
    })
  }
  if (damaged > 0) {
    assumptions.push({ code: 'rows-skipped', text: `${damaged} damaged blocks of the journal are left out.` })
  }
  return assumptions
}

const unitText = (unit: LogForceUnit): string =>
  `The line does not say what its forces are in; they are taken as ${unit}. Give the unit if that is wrong.`
