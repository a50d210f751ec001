import { sameData } from '../../core/sameData.ts'
import type { Remark } from '../journal/entries.ts'
import type { SampleBlock } from '../journal/frames.ts'
import type { Decoded } from '../lines/decode.ts'
import { deviceReset, nearCapacity, overCapacity } from '../problems.ts'
import { COMMANDS, type Greeting } from '../protocol.ts'
import { isKeeping, nextState } from '../state.ts'
import type { LiveEvent, LiveNote } from '../types.ts'
import { type Line, momentS, setColumns } from './line.ts'
import { sendSamples } from './outgoing.ts'
import { NO_PLAN } from './public.ts'
import { move } from './states.ts'

/** Events kept for a viewer who comes late. */
const MOST_EVENTS = 500
const MOST_NOTES = 200

/** What one read of the line brought. */
export function takeBytes(line: Line, chunk: Uint8Array): void {
  line.lastArrivalS = line.nowS()
  for (const decoded of line.decoder.push(chunk, line.lastArrivalS)) take(line, decoded)
  line.alarms.lower('silent', line.lastArrivalS)
}

/** What came of a line before the device went away is kept as a remark, and is no part of the next one. */
export function dropHalfLine(line: Line): void {
  for (const decoded of line.decoder.breakOff(line.nowS())) take(line, decoded)
}

function take(line: Line, decoded: Decoded): void {
  switch (decoded.kind) {
    case 'columns':
      if (sameData(decoded.columns, line.columns)) return
      setColumns(line, decoded.columns)
      line.recent.columns(decoded.columns)
      line.recorder?.recorder.keep(decoded.columns)
      return
    case 'remark':
      takeRemark(line, decoded.remark)
      return
    case 'greeting':
      answerGreeting(line, decoded.greeting)
      return
    case 'samples':
      takeBlock(line, decoded.block)
  }
}

function takeRemark(line: Line, remark: Remark): void {
  if (remark.kind === 'garbled') line.troubles = { ...line.troubles, garbled: line.troubles.garbled + 1 }
  if (remark.kind === 'device-reset' && line.sampledSinceReset) {
    line.sampledSinceReset = false
    if (line.seenSamples) {
      line.troubles = { ...line.troubles, resets: line.troubles.resets + 1 }
      line.alarms.raise('device-reset', deviceReset(line.source.name), line.nowS())
    }
    breakOff(line)
    keepRemark(line, remark)
    return
  }
  const kept = line.floods.take(remark)
  if (kept) keepRemark(line, kept)
}

/** Tells how often lines came again, where that is due. */
export function tellFloods(line: Line): void {
  for (const remark of line.floods.due(line.nowS())) keepRemark(line, remark)
}

/** Keeps a remark with the samples, and tells it. */
export function keepRemark(line: Line, remark: Remark): void {
  line.recent.remark(remark)
  line.recorder?.recorder.keep(remark)
  if (remark.kind !== 'held') tellNote(line, { atS: momentS(line), of: remark.kind, text: remark.text })
}

/** Tells viewers, and those who come later, without keeping it in the recording. */
export function tellNote(line: Line, note: LiveNote): void {
  line.notes.push(note)
  if (line.notes.length > MOST_NOTES) line.notes.shift()
  line.out.send({ kind: 'note', ...note })
}

/** The line or the device began anew. */
export function breakOff(line: Line): void {
  line.watch.restart()
  line.times.breakOff()
  line.meter.breakOff()
}

function answerGreeting(line: Line, { rateHz }: Greeting): void {
  const wanted = line.options.askRateHz ?? null
  if (!line.source.send) return
  if (wanted !== null && wanted !== rateHz) line.source.send(COMMANDS.rate(wanted))
  line.source.send(COMMANDS.start)
}

function takeBlock(line: Line, block: SampleBlock): void {
  line.recent.block(block)
  line.recorder?.recorder.keep({ what: 'samples', block })
  const { scale } = line
  for (let i = 0; i < block.values.length; i++) {
    if (block.sequence && !countSequence(line, block.sequence[i]!)) continue
    const indicatedN = line.sign * scale(block.values[i]!)
    takeSample(
      line,
      line.times.next(block.arrivedS, block.stampS ? finiteOrNull(block.stampS[i]!) : null),
      indicatedN,
    )
  }
  for (const [c, values] of block.channels.entries()) line.channelValues[c] = values.at(-1) ?? Number.NaN
  line.seenSamples = true
  line.sampledSinceReset = true
  line.figuresDue = true
  line.alarms.lower('wrong-speed', line.lastArrivalS)
}

/** Counts what the sequence numbers tell; false for a sample that has no place in the live curve. */
function countSequence(line: Line, number: number): boolean {
  const found = line.watch.see(number)
  switch (found.kind) {
    case 'repeated':
      line.troubles = { ...line.troubles, repeated: line.troubles.repeated + 1 }
      return false
    case 'late':
      line.troubles = {
        ...line.troubles,
        outOfOrder: line.troubles.outOfOrder + 1,
        lost: line.troubles.lost - 1,
      }
      return false
    case 'reset':
      line.troubles = { ...line.troubles, resets: line.troubles.resets + 1 }
      line.alarms.raise('device-reset', deviceReset(line.source.name), line.nowS())
      line.times.breakOff()
      line.meter.breakOff()
      return true
    case 'next':
      if (found.lost > 0) line.troubles = { ...line.troubles, lost: line.troubles.lost + found.lost }
      return true
  }
}

function takeSample(line: Line, atS: number, indicatedN: number): void {
  line.lastSampleS = atS
  const { forceN: meteredN, events: told } = line.meter.add(atS, indicatedN)
  line.curve.add(atS, indicatedN)
  line.batchTimes.push(atS)
  line.batchForces.push(indicatedN)
  const forceN = settleSign(line, meteredN) ? -meteredN : meteredN
  if (isKeeping(line.state)) line.samples++
  const thresholdN =
    line.state.phase === 'armed'
      ? (line.plan?.startAtN ?? line.meter.startAtN)
      : Math.max(line.meter.loadedFromN, Number.MIN_VALUE)
  // As long as its sign is not told, a recording starts whichever way the force goes.
  const eitherWay = line.state.phase === 'armed' && line.tension === undefined
  const over = (eitherWay ? Math.abs(forceN) : forceN) > thresholdN
  move(line, nextState(line.state, { kind: 'sample', atS, over }, line.plan ?? NO_PLAN))
  for (const event of told) tellEvent(line, event)
  watchCapacity(line, indicatedN, atS)
}

/**
 * Turns the live figures where the load shows that the line counts tension the other way, by the rule that
 * the recording is turned by when it ends. True where this sample turned them.
 */
function settleSign(line: Line, forceN: number): boolean {
  const { meter, signs, sign } = line
  if (line.tension !== undefined || meter.zeroFrom === 'none') return false
  // A zero key before the pull is no load.
  if (meter.zeroN !== line.signZeroN && line.state.pulls === 0) signs.restart()
  line.signZeroN = meter.zeroN
  const negative = signs.add(sign * forceN, meter.startAtN)
  if (negative === null || negative === (sign === -1)) return false
  line.sign = negative ? -1 : 1
  meter.turn()
  line.signZeroN = meter.zeroN
  line.curve.turn()
  line.batchForces = line.batchForces.map(n => -n)
  const text = negative
    ? 'The force goes down under load: tension is taken as counted negative, and the live figures are turned.'
    : 'The force goes up under load: tension is taken as counted positive, and the live figures are no longer turned.'
  tellNote(line, { atS: momentS(line), of: 'told', text })
  // What was told so far has the other sign: those who look on must draw it anew.
  sendSamples(line)
  line.out.send({ kind: 'turned', sign: line.sign })
  return true
}

function tellEvent(line: Line, event: LiveEvent): void {
  const at = line.events.findIndex(({ id }) => id === event.id)
  if (at >= 0) line.events[at] = event
  else line.events.push(event)
  if (line.events.length > MOST_EVENTS) line.events.shift()
  line.out.send({ kind: 'event', event })
}

function watchCapacity(line: Line, indicatedN: number, atS: number): void {
  if (line.capacityN === null) return
  const share = Math.abs(indicatedN) / line.capacityN
  if (share > 1) line.alarms.raise('over-capacity', overCapacity(line.source.name, share), atS)
  else if (share > 0.9) line.alarms.raise('near-capacity', nearCapacity(line.source.name, share), atS)
  else if (share < 0.8) {
    line.alarms.lower('over-capacity', atS)
    line.alarms.lower('near-capacity', atS)
  }
}

const finiteOrNull = (value: number): number | null => (Number.isFinite(value) ? value : null)
