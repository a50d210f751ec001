import { silent, wrongSpeed } from '../problems.ts'
import type { LiveFigures } from '../types.ts'
import type { Line } from './line.ts'
import type { Snapshot } from './public.ts'

const SILENT_S = 2

/** The figures of this moment. */
function figures(line: Line): LiveFigures {
  const periodS = line.times.periodS
  return {
    atS: line.lastSampleS,
    forceN: line.meter.forceN,
    peakN: line.meter.peakN,
    pullPeakN: line.meter.pullPeakN,
    rateNPerS: line.meter.rateNPerS,
    shareOfCapacity:
      line.capacityN === null || line.meter.forceN === null
        ? null
        : (line.meter.forceN + line.meter.zeroN) / line.capacityN,
    zeroN: line.meter.zeroFrom === 'none' ? null : line.meter.zeroN,
    zeroFrom: line.meter.zeroFrom,
    unit: line.columns?.unit ?? null,
    sampleRateHz: periodS === null ? null : 1 / periodS,
    samples: line.samples,
    troubles: line.troubles,
  }
}

/** Sends on what has gathered, and looks whether the line still speaks. */
export function sendOn(line: Line): void {
  if (line.batchTimes.length > 0) {
    const batch = { timeS: Float64Array.from(line.batchTimes), forceN: Float64Array.from(line.batchForces) }
    line.batchTimes = []
    line.batchForces = []
    line.out.send({ kind: 'samples', batch })
  }
  if (line.figuresDue) {
    line.figuresDue = false
    line.out.send({ kind: 'figures', figures: figures(line) })
  }
  watchLine(line)
}

function watchLine(line: Line): void {
  const silentS = line.nowS() - line.lastArrivalS
  if (line.seenSamples && silentS > Math.max(SILENT_S, 5 * (line.times.periodS ?? 0))) {
    line.alarms.raise('silent', silent(line.source.name), line.nowS())
  }
  const odd = line.decoder.oddShare()
  if (odd !== null && odd > 0.2) line.alarms.raise('wrong-speed', wrongSpeed(line.source.name), line.nowS())
}

/** Everything that a viewer needs who comes late. */
export const snapshot = (line: Line): Snapshot => ({
  line: line.stands,
  state: line.state,
  plan: line.plan,
  figures: figures(line),
  events: [...line.events],
  alarms: line.alarms.standing(),
  curve: line.curve.thin(),
})
