import type { Channel, Recording } from '../../../src/core/recording.ts'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import type { LogForceUnit } from '../../../src/core/units/force.ts'

/** A made-up recording of stands and ramps: `[seconds, level]` in turn, with ramps of half a second between. */
export function standing(
  stands: readonly (readonly [seconds: number, level: number])[],
  { rateHz = 10, noise = 0, step = 0, unit = 'N' as LogForceUnit, seed = 1, creep = 0 } = {},
): Recording {
  const random = seededRandom(seed)
  const values: number[] = []
  const round = (v: number) => (step > 0 ? Math.round(v / step) * step : v)
  let level = stands[0]?.[1] ?? 0
  for (const [seconds, next] of stands) {
    const ramp = values.length === 0 ? 0 : rateHz / 2
    for (let i = 1; i < ramp; i++) values.push(level + ((next - level) * i) / ramp)
    for (let i = 0; i < seconds * rateHz; i++) {
      const held = i / rateHz
      values.push(next * (1 + creep * (1 - Math.exp(-held / 60))))
    }
    level = next
  }
  return recordingOf(
    values.map(v => round(v + noise * random.normal())),
    { rateHz, unit },
  )
}

export function recordingOf(
  values: readonly number[],
  { rateHz = 10, unit = 'N' as LogForceUnit, channels = [] as readonly Channel[] } = {},
): Recording {
  return {
    name: 'log.csv',
    sha256: '',
    timeS: Float64Array.from(values, (_, i) => i / rateHz),
    forceN: Float64Array.from(values),
    forceUnit: unit,
    timeFrom: 'column',
    segments: [{ from: 0, to: values.length, began: 'start', name: 'log.csv', sha256: '', shiftS: 0 }],
    channels,
    notes: [],
    assumptions: [],
    understood: '',
  }
}
