import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Channel, Recording, Segment } from '../core/recording.ts'
import { middleStep } from './meaning/timeBase.ts'

/**
 * Joins the logs of one specimen, in the order given. Each keeps its own time base as a segment that begins one
 * nominal step after the one before, since the time between is unknown. Logs in unlike units of force join, raw
 * counts and forces do not.
 */
export function joinRecordings(recordings: readonly Recording[]): Outcome<Recording> {
  const [first, ...others] = recordings
  if (!first) return wrong({ where: 'specimen', what: 'no logs were given.', cure: 'Name at least one log.' })
  if (others.length === 0) return fine(first)
  const unlike = others.find(other => (other.forceUnit === 'counts') !== (first.forceUnit === 'counts'))
  if (unlike) {
    const [counts, force] = first.forceUnit === 'counts' ? [first, unlike] : [unlike, first]
    return wrong({
      where: counts.name,
      what: `holds raw counts, but ${force.name} of the same specimen holds a force in ${force.forceUnit}.`,
      cure: 'Apply a calibration to the counts first, or say with --unit what they are.',
    })
  }
  const twice = recordings.find(
    (r, i) => r.sha256 !== '' && recordings.findIndex(o => o.sha256 === r.sha256) < i,
  )
  if (twice) {
    return wrong({
      where: twice.name,
      what: 'is the same log as another of this specimen.',
      cure: 'Give each log once.',
    })
  }
  const samples = recordings.reduce((sum, recording) => sum + recording.timeS.length, 0)
  const timeS = new Float64Array(samples)
  const forceN = new Float64Array(samples)
  const segments: Segment[] = []
  const offsets: number[] = []
  let at = 0
  for (const [r, recording] of recordings.entries()) {
    const before = recordings[r - 1]
    const shiftS = before ? timeS[at - 1]! + middleStep(before.timeS) - recording.timeS[0]! : 0
    for (let i = 0; i < recording.timeS.length; i++) timeS[at + i] = recording.timeS[i]! + shiftS
    forceN.set(recording.forceN, at)
    offsets.push(at)
    for (const [s, segment] of recording.segments.entries()) {
      segments.push({
        ...segment,
        from: segment.from + at,
        to: segment.to + at,
        began: r > 0 && s === 0 ? 'file' : segment.began,
        sha256: segment.sha256 || recording.sha256,
        shiftS: segment.shiftS + shiftS,
      })
    }
    at += recording.timeS.length
  }
  return fine({
    name: first.name,
    sha256: first.sha256,
    timeS,
    forceN,
    forceUnit: first.forceUnit,
    timeFrom: first.timeFrom,
    segments,
    channels: joinedChannels(recordings, offsets, samples),
    notes: recordings.flatMap((recording, r) =>
      recording.notes.map(note => ({ ...note, sample: note.sample + offsets[r]! })),
    ),
    assumptions: recordings.flatMap(({ name, assumptions }) =>
      assumptions.map(({ code, text }) => ({ code, text: `${name}: ${text}` })),
    ),
    understood: recordings.map(({ name, understood }) => `${name}: ${understood}`).join(' | '),
  })
}

/** Channels of one name and unit become one; NaN where a log has none. */
function joinedChannels(
  recordings: readonly Recording[],
  offsets: readonly number[],
  samples: number,
): Channel[] {
  const joined = new Map<string, Channel>()
  for (const [r, { channels }] of recordings.entries()) {
    for (const channel of channels) {
      const key = `${channel.name}\n${channel.unit}`
      const known = joined.get(key) ?? { ...channel, values: new Float64Array(samples).fill(Number.NaN) }
      known.values.set(channel.values, offsets[r]!)
      joined.set(key, known)
    }
  }
  return [...joined.values()]
}
