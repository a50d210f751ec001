import { silent, wrongSpeed } from '../problems.ts'
import type { LiveChannel, LiveFigures } from '../types.ts'
import type { Line } from './line.ts'
import type { Snapshot } from './public.ts'
import { tellHeld } from './room.ts'

const SILENT_S = 2

const LENGTH_KINDS = ['extension', 'travel'] as const

/** The figures of this moment. */
function figures(line: Line): LiveFigures {
  const periodS = line.times.periodS
  const channels = channelsNow(line)
  const [extensionMm, columnMm] = LENGTH_KINDS.map(
    of => channels.find(({ kind, unit }) => kind === of && unit === 'mm')?.value ?? null,
  ) as [number | null, number | null]
  const travelMm = columnMm ?? tappedMm(line)
  const strokeMm = line.rig?.document.strokeMm
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
    forceIn: line.isForce ? 'N' : 'counts',
    extensionMm,
    travelMm,
    turns: line.turns,
    shareOfStroke: travelMm === null || strokeMm === undefined ? null : travelMm / strokeMm,
    channels,
    sampleRateHz: periodS === null ? null : 1 / periodS,
    samples: line.samples,
    troubles: line.troubles,
  }
}

const channelsNow = ({ columns, channelValues }: Line): LiveChannel[] =>
  (columns?.channels ?? []).map((channel, c) => {
    const value = channelValues[c] ?? Number.NaN
    return { ...channel, value: Number.isFinite(value) ? value : null }
  })

/** What the turns tapped come to, by the pitch of the drive. */
export function tappedMm({ turns, rig }: Line): number | null {
  const mmPerTurn = rig?.document.drive.mmPerTurn
  return turns === null || mmPerTurn === undefined ? null : turns * mmPerTurn
}

export function sendSamples(line: Line): void {
  if (line.batchTimes.length === 0) return
  const batch = { timeS: Float64Array.from(line.batchTimes), forceN: Float64Array.from(line.batchForces) }
  line.batchTimes = []
  line.batchForces = []
  line.out.send({ kind: 'samples', batch })
}

/** Sends on what has gathered. */
export function sendOn(line: Line): void {
  sendSamples(line)
  if (line.figuresDue) {
    line.figuresDue = false
    line.out.send({ kind: 'figures', figures: figures(line) })
  }
}

/** Looks whether the line still speaks, and in a language that can be read. */
export function watchLine(line: Line): void {
  const silentS = line.nowS() - line.lastArrivalS
  // A line that is lost is told as lost, and one that has come to its end, as a pretend pull does, is not
  // silent.
  if (
    line.stands === 'open' &&
    line.seenSamples &&
    silentS > Math.max(SILENT_S, 5 * (line.times.periodS ?? 0))
  ) {
    line.alarms.raise('silent', silent(line.source.name), line.nowS())
  }
  tellHeld(line)
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
  notes: [...line.notes],
  curve: line.curve.thin(),
  recordingId: line.recorder?.id ?? null,
})
