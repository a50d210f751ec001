import type { Channel, Recording, Segment } from '../../core/recording.ts'
import { N_PER } from '../../core/units/force.ts'
import type { Output } from './converter.ts'
import type { PullSpec } from './spec.ts'

/** A log of the pretend rig as a recording, in newton, with its own time axis. */
export function recordingOf(output: Output, spec: PullSpec, name: string): Recording {
  const { unit } = spec.converter
  const perUnit = N_PER[unit]
  const samples = output.timeS.length
  const segment: Segment = { from: 0, to: samples, began: 'start', name, sha256: '', shiftS: 0 }
  const travel: Channel = { name: 'travel', kind: 'travel', unit: 'mm', values: output.travelMm }
  return {
    name,
    sha256: '',
    timeS: output.timeS,
    forceN: output.indicated.map(v => v * perUnit),
    forceUnit: unit,
    timeFrom: 'column',
    segments: [segment],
    channels: spec.logsTravel ? [travel] : [],
    notes: [],
    assumptions: [],
    understood: `${samples} samples from the pretend rig: time in s, force in ${unit}`,
  }
}

/** Logs of one specimen on one time axis: each begins one period after the end of the one before. */
export function joinLogs(logs: readonly Recording[]): Recording {
  const [first] = logs
  if (!first) throw new RangeError('joinLogs needs at least one log')
  if (logs.length === 1) return first
  const samples = logs.reduce((n, log) => n + log.timeS.length, 0)
  const timeS = new Float64Array(samples)
  const forceN = new Float64Array(samples)
  const channels = first.channels.map(c => ({ ...c, values: new Float64Array(samples) }))
  const segments: Segment[] = []
  let from = 0
  for (const [i, log] of logs.entries()) {
    const periodS = log.timeS[1]! - log.timeS[0]!
    const shiftS = i === 0 ? 0 : timeS[from - 1]! + periodS - log.timeS[0]!
    timeS.set(
      log.timeS.map(t => t + shiftS),
      from,
    )
    forceN.set(log.forceN, from)
    for (const [c, channel] of channels.entries()) channel.values.set(log.channels[c]!.values, from)
    const to = from + log.timeS.length
    segments.push({ from, to, began: i === 0 ? 'start' : 'file', name: log.name, sha256: '', shiftS })
    from = to
  }
  return { ...first, timeS, forceN, channels, segments }
}
