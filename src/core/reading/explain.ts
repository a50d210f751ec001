import { isLopsided } from '../units/showForce.ts'
import type { PeakForce, Reading } from './document.ts'
import { laterPeakHalfN, workHalfJ } from './doubtInProportion.ts'
import { inNewton, type Ledger, ledgerOf, type ShowForce } from './explainLedger.ts'
import { peakEnds } from './peakWords.ts'
import { zeroSentence } from './zeroWords.ts'

/** Why a reading says what it says, in plain words. */
export interface Explanation {
  readonly ledger: Ledger | null
  /** One for each result that there is, then one for each warning, in the order of the document. */
  readonly whys: readonly Why[]
}

export interface Why {
  /** Key of the result, or code of the warning. */
  readonly about: string
  readonly text: string
}

/** Explains every result and warning of a reading. `show` puts forces into the person's unit. */
export const explain = (reading: Reading, show: ShowForce = inNewton): Explanation => ({
  ledger: ledgerOf(reading, show),
  whys: [...resultWhys(reading, show), ...warningWhys(reading, show)],
})

/** What each warning means for the figures, in the order of the document. */
export const warningWhys = (reading: Reading, show: ShowForce = inNewton): Why[] =>
  reading.warnings.map(({ code, text }) => ({
    about: code,
    text: WARNINGS[code]?.(reading, show) ?? text,
  }))

/** One for each result that there is. */
export function resultWhys(reading: Reading, show: ShowForce = inNewton): Why[] {
  const { peakForce, partialBreaks, laterPeaks, timeToPeakS, stiffness, work } = reading.results
  const whys: Why[] = [{ about: 'peakForce', text: peakWhy(peakForce, show) }]
  if (partialBreaks > 0)
    whys.push({
      about: 'partialBreaks',
      text: `${times(partialBreaks)} the force fell within a reading or two, some force stayed, and the specimen was less stiff afterwards: a part of it let go. ${elementsWhy(reading)}`,
    })
  for (const later of laterPeaks)
    whys.push({
      about: 'laterPeaks',
      text: `After the main break pull ${later.pull + 1} loaded what was left up to ${show(later.valueN, laterPeakHalfN(reading, later))} at ${later.atS.toFixed(2)} s, where it let go too. It is counted by itself.`,
    })
  if (timeToPeakS !== null)
    whys.push({
      about: 'timeToPeakS',
      text: `From the first load of its pull to the peak ${timeToPeakS.toFixed(1)} s went by. Many materials hold more when they are pulled faster: compare only pulls of like pace.`,
    })
  if (stiffness !== null) whys.push({ about: 'stiffness', text: stiffnessWhy(stiffness) })
  if (work !== null)
    whys.push({
      about: 'work',
      text: `The area under the curve up to the break is ${work.valueJ.toPrecision(3)} J. What the rig itself stored is in it where the travel of the grips was logged.${workHalfJ(reading) === null ? '' : ' Its doubt covers the zero, the scale, and what went on after the last reading.'}`,
    })
  return whys
}

function stiffnessWhy({ value, unit }: NonNullable<Reading['results']['stiffness']>): string {
  const rises = `The straight part of the curve rises by ${value.toPrecision(3)} ${unit}`
  return unit.endsWith('/s')
    ? `${rises}: a loading rate and no stiffness, since no extension was logged.`
    : `${rises}. Where the travel of the grips was logged, the stretch of the rig is in it.`
}

function peakWhy(peak: PeakForce, show: ShowForce): string {
  const { status, valueN, uncertaintyN, lowN, atS, covers } = peak
  if (status === 'no-pull')
    return 'Nothing was pulled in this record: no load stands clear of what the empty cell reads by itself. There is no peak force, and no comparison counts it.'
  if (status === 'not-recorded' || valueN === null)
    return 'No loading was found that rises clear of the noise, so there is no peak force. Nothing is taken for it, least of all 0.'
  const at = atS === null ? '' : ` at ${atS.toFixed(2)} s`
  const ends = peakEnds(peak)
  const value = show(valueN, uncertaintyN, ends)
  const zero = zeroWhy(peak, show)
  if (status === 'at-least')
    return `The record does not show the true peak; the specimen carried at least ${show(lowN ?? valueN, null)}${at}. Statistics count it as a value that was passed, not as the strength.${zero}`
  if (status === 'not-reached')
    return `The specimen held. The greatest force${at} was ${value}; its strength is above that.${zero}`
  const lopsided =
    ends !== null && isLopsided(valueN, ends.lowN, ends.highN)
      ? ' The interval reaches farther to the side on which the reading may be wrong.'
      : ''
  const taken = peak.zero === 'as-indicated' ? 'as the indicator gave it' : 'less the zero'
  return `The greatest force${at}, ${taken}: ${value}. 95 of 100 such intervals hold the true peak. The doubt covers ${list(covers)}.${lopsided}${zero}`
}

/** What is said where the empty cell was not seen. */
function zeroWhy(peak: PeakForce, show: ShowForce): string {
  if (peak.zero !== 'as-indicated') return ''
  const choice = zeroSentence(peak, show)
  return ` The empty cell is not seen in this record, so its zero is the indicator's own, and comparisons say so.${choice === null ? '' : ` ${choice}`}`
}

/** What is known of the number of elements that let go. */
function elementsWhy(reading: Reading): string {
  const parts = reading.events.filter(e => e.kind === 'partial-break')
  const counted = parts.flatMap(e => (e.elements ? [e.elements] : []))
  if (counted.length === 0)
    return 'How many elements went each time cannot be said: tell how many equal ones there were.'
  const seen = counted.reduce((n, e) => n + e.estimate, 0)
  const unseen = parts.length - counted.length
  const open = unseen > 0 ? ` For ${unseen} of them the count cannot be had.` : ''
  return `By the size of the drops and the stiffness after them about ${seen} ${seen === 1 ? 'element' : 'elements'} went in them.${open}`
}

type WarningWhy = (reading: Reading, show: ShowForce) => string

/** What a warning means for the figures, beyond its own text. */
const WARNINGS: Readonly<Record<string, WarningWhy>> = {
  'zero-set-under-load': ({ zeros }, show) => {
    const rest = zeros.find(z => z.basis === 'rest')
    const read = rest ? ` Without load the cell read ${show(rest.levelN, rest.uncertaintyN)}.` : ''
    return `When the zero was set the specimen was already under load, so every reading is too low by that load.${read} It has been added again; zero the indicator before taking up the slack.`
  },
  'zero-unknown': () =>
    'The record has no stretch in which the specimen surely carried nothing. If it was zeroed with the slack taken up, the true force is higher than read, by an amount that nothing in the record tells. Let the log run for a few seconds after the break.',
  'zero-moved': ({ zeros }, show) => {
    const levels = zeros.filter(z => z.basis === 'rest').map(z => z.levelN)
    const moved = levels.length > 1 ? Math.max(...levels) - Math.min(...levels) : null
    return `Two rests with one zero do not read the same${moved === null ? '' : `: they lie ${show(moved, null)} apart`}. In between the zero is taken to run straight or, where it stepped, to keep its level until the force fell; the doubt is wider. Warming up the electronics before the pull lessens it.`
  },
  'zero-set-again': ({ events }) => {
    const at = events.filter(e => e.kind === 'rezero').map(e => `${e.atS.toFixed(2)} s`)
    return `The reading jumped to nought while the load stayed the same${at.length > 0 ? `, at ${list(at)}` : ''}: the zero key was pressed. Before and after, forces are taken from the zero of their own part.`
  },
  'over-range': ({ recording }, show) =>
    `${recording.overRange ? `${recording.overRange.count} readings stand at ${show(recording.overRange.limitN, null)}, cut flat` : 'The top of the curve is cut flat'}: the converter or the cell could show no more. The true peak is above it. Use a stronger cell or a lower gain, and never exceed the cell's capacity.`,
  gap: ({ recording }) =>
    `Readings are missing for ${list(recording.gaps.map(g => `${(g.toS - g.fromS).toFixed(2)} s from ${g.fromS.toFixed(2)} s`))}. What happened there was not recorded; a break in it would not be seen.`,
  spike: ({ recording }) =>
    `${recording.spikes.length === 1 ? 'One reading stands' : `${recording.spikes.length} readings stand`} far off both neighbours, as no specimen can move (at ${list(recording.spikes.map(s => `${s.atS.toFixed(2)} s`))}). ${recording.spikes.length === 1 ? 'It was' : 'They were'} left out. Look for a loose lead.`,
  'slow-sampling': ({ recording }) =>
    `With ${recording.rateHz.toPrecision(2)} readings a second the force grows a good deal from one to the next, and the true peak falls between two. What is likely is added and the rest is in the doubt. Log faster or pull more slowly.`,
  slip: () =>
    'The force fell at once but the specimen was as stiff afterwards as before, so nothing in it broke: it moved in its grips. The peak stands; extension and work after a slip are too large.',
  'no-break': () =>
    'The record ends, or the specimen was let down, without a break. The greatest force is what it carried, not what it can carry.',
  'unit-assumed': () =>
    'The log does not say its unit of force. If it was another one, every figure is wrong by the same factor: give the unit with the log.',
  'rate-assumed': () =>
    'The log has no times; they were made from a rate. Forces do not depend on it, times and loading rates do.',
  'not-calibrated': () =>
    'Nothing tells whether the scale itself is right. The doubt given here says how well the reading was read; a scale that is off by 5 % makes every force wrong by 5 %. Hang known masses and calibrate.',
}

const times = (n: number): string => (n === 1 ? 'Once' : n === 2 ? 'Twice' : `${n} times`)

/** `a, b and c`. */
const list = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? 'nothing') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
