import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Channel, Recording, Segment } from '../core/recording.ts'
import { ownScaleOf } from '../core/units/force.ts'
import { middleStep } from './meaning/timeBase.ts'

/**
 * Joins the logs of one specimen, in the order given. Each keeps its own time base as a segment that begins
 * one nominal step after the one before, since the time between is unknown. Logs in unlike units of force
 * join; raw counts, forces and numbers of no told unit do not join with one another.
 */
export function joinRecordings(recordings: readonly Recording[]): Outcome<Recording> {
  const [first, ...others] = recordings
  if (!first) return wrong({ where: 'specimen', what: 'no logs were given.', cure: 'Name at least one log.' })
  if (others.length === 0) return fine(first)
  const unlike = others.find(other => ownScaleOf(other.forceUnit) !== ownScaleOf(first.forceUnit))
  if (unlike) {
    const [bare, other] = ownScaleOf(first.forceUnit) !== null ? [first, unlike] : [unlike, first]
    return wrong({
      where: bare.name,
      what: `holds ${scaleText(bare)}, but ${other.name} of the same specimen holds ${scaleText(other)}.`,
      cure: 'Name the rig with its calibration, or say of each log what its numbers are.',
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
      assumptions.map(assumption => ({ ...assumption, text: `${name}: ${assumption.text}` })),
    ),
    understood: recordings.map(({ name, understood }) => `${name}: ${understood}`).join(' | '),
  })
}

const scaleText = ({ forceUnit }: Recording): string =>
  forceUnit === null
    ? 'numbers of no told unit'
    : forceUnit === 'counts'
      ? 'raw counts'
      : `a force in ${forceUnit}`

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
