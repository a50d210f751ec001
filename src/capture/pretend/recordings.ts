import type { Channel, Recording, Segment } from '../../core/recording.ts'
import { N_PER } from '../../core/units/force.ts'
import type { Output } from './converter.ts'
import type { PullSpec } from './spec.ts'

/** A log of the pretend rig as a recording, in newton, with its own time axis. */
export function recordingOf(
  output: Output,
  spec: Pick<PullSpec, 'converter' | 'logsTravel'>,
  name: string,
): Recording {
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
