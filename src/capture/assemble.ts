import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Channel, Recording, Segment } from '../core/recording.ts'
import { N_PER } from '../core/units/force.ts'
import { tensionSign } from '../logs/meaning/tension.ts'
import { type Gathered, gather } from './gather.ts'
import type { Columns, JournalContents } from './journal/entries.ts'
import { assembleLong, MOST_AT_ONCE } from './long/assembleLong.ts'
import { noSample } from './problems.ts'
import { assumptionsOf, notesOf, placedText, STAMPED_LEAST, tensionTold } from './recordingFacts.ts'
import { tappedTurns } from './tappedTurns.ts'
import { byArrival, byDevice, byRate, type Placed } from './timing/place.ts'
import type { Troubles } from './types.ts'

/**
 * The recording that a journal holds: the same function makes it when a capture ends, and from a journal left
 * behind. Repeated samples are left out and late ones put in their place; every such thing is counted and
 * noted.
 */
export function assemble(
  contents: JournalContents,
  name: string,
): Outcome<{ readonly recording: Recording; readonly troubles: Troubles }> {
  if (contents.samples > MOST_AT_ONCE) return assembleLong(contents, name)
  const gathered = gather(contents)
  const columns = gathered.columns
  if (columns === null || gathered.values.length === 0) return wrong(noSample(name))
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
    tension: tensionTold(contents.header, tension),
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
    notes: notesOf(gathered.remarks),
    assumptions: assumptionsOf(columns, contents.header, contents.damaged, tension),
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
  if (header.rateHz !== null)
    return { ...byRate(gathered, header.rateHz), text: placedText('rate', header.rateHz) }
  const { stampS } = gathered
  const stamped = stampS.reduce((n, s) => n + (Number.isNaN(s) ? 0 : 1), 0)
  if (columns.stamps !== null && stamped > STAMPED_LEAST * stampS.length)
    return { ...byDevice(gathered, columns.stamps.tickS), text: placedText('device', 0) }
  const placed = byArrival(gathered)
  return { ...placed, text: placedText('arrival', placed.rateHz) }
}
