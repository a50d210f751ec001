import { type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { ENGINE_VERSION } from '../../core/version.ts'
import type { Header } from '../journal/entries.ts'
import { nothingRuns, notMade } from '../problems.ts'
import { type Kept, startRecorder } from '../recorder.ts'
import { type CaptureState, isKeeping } from '../state.ts'
import type { Captured } from '../types.ts'
import { type Line, noTroubles } from './line.ts'
import { NO_PLAN } from './public.ts'

/** Goes into a state, with what that entails. */
export function move(line: Line, next: CaptureState): void {
  if (next === line.state) return
  const before = line.state
  line.state = next
  if (isKeeping(next) && !isKeeping(before)) begin(line)
  if (next.pulling && !before.pulling) line.meter.beginPull()
  if (next.phase === 'rest' && before.phase === 'recording') line.meter.restAfterPull()
  const told = next.phase !== before.phase || next.pulls !== before.pulls || next.pulling !== before.pulling
  if (told) line.out.send({ kind: 'state', state: next })
  if (isKeeping(before) && !isKeeping(next)) void endRecording(line)
}

function begin(line: Line): void {
  const chosen = line.plan ?? NO_PLAN
  const kept = line.recent.since(line.lastArrivalS - chosen.keepBeforeS)
  const id = crypto.randomUUID()
  const { about, ...rest } = chosen
  const header: Header = {
    what: 'header',
    id,
    startedAt: line.clock.wall().toISOString(),
    startedS: line.nowS(),
    about,
    plan: rest,
    source: line.source.name,
    engine: ENGINE_VERSION,
    ...line.computer.writer(),
    capacityN: line.capacityN,
    rig: line.rig,
    rateHz: line.options.log?.rateHz ?? null,
    tension: line.tension ?? null,
  }
  const onTrouble = (problem: Problem | null): void => {
    line.heldSinceS = problem ? line.nowS() : null
    if (problem) line.alarms.raise('not-on-disk', problem, line.nowS())
    else line.alarms.lower('not-on-disk', line.nowS())
  }
  line.recorder = {
    id,
    recorder: startRecorder({
      files: line.computer.files,
      folder: line.journals,
      header,
      makes: line.options.makes ?? 'all',
      onTrouble,
    }),
  }
  for (const entry of kept) line.recorder.recorder.keep(entry)
  line.samples = kept.reduce((n, entry) => n + (entry.what === 'samples' ? entry.block.values.length : 0), 0)
  line.troubles = noTroubles()
  line.floods.restart()
  line.events = line.events.filter(({ atS }) => atS >= line.lastSampleS - chosen.keepBeforeS)
  line.notes = line.notes.filter(({ atS }) => atS >= line.lastSampleS - chosen.keepBeforeS)
  line.curve.clear(line.lastSampleS - chosen.keepBeforeS)
  line.turns = turnsIn(kept)
  line.ending = null
  line.alarms.lower('device-reset', line.nowS())
  line.meter.begin()
  if (line.meter.zeroFrom === 'none' && line.state.startedBy === 'hand') line.meter.zeroWhenQuiet()
}

/** Turns that were tapped in what came before a recording; `null`: none. */
function turnsIn(kept: readonly Kept[]): number | null {
  const taps = kept.flatMap(one => (one.what === 'remark' && one.kind === 'turn' ? [one.count] : []))
  return taps.length === 0 ? null : taps.reduce((n, by) => n + by, 0)
}

/** Ends the recording that runs, or gives the one that was ended last. */
export function endRecording(line: Line): Promise<Outcome<Captured>> {
  const running = line.recorder
  if (running === null) return line.ending ?? Promise.resolve(wrong(nothingRuns(line.source.name)))
  line.recorder = null
  for (const remark of line.floods.rest(line.nowS())) running.recorder.keep(remark)
  // What belonged to this specimen is not "before" the next one.
  line.recent.clear()
  const how = line.state.phase === 'given-up' ? 'given-up' : 'finished'
  line.ending = running.recorder
    .end({ what: 'end', how, atS: line.nowS(), reason: line.state.reason })
    .then(outcome => {
      if (outcome.ok) line.out.send({ kind: 'captured', captured: outcome.value })
      return outcome
    })
    .catch((error: unknown) => wrong(notMade(line.source.name, error)))
  return line.ending
}
