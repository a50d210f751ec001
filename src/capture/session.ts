import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import type { LogForceUnit } from '../core/units/force.ts'
import type { Computer } from './computer.ts'
import { letExit } from './letExit.ts'
import {
  emptyNote,
  forceMoves,
  noSamplesYet,
  noTurnTapped,
  nothingArmed,
  nothingRuns,
  runsAlready,
} from './problems.ts'
import { readyFolder } from './recorder.ts'
import { breakOff, dropHalfLine, keepRemark, takeBytes, tellFloods } from './session/intake.ts'
import { type Line, makeLine, momentS } from './session/line.ts'
import { sendOn, snapshot, tappedMm, watchLine } from './session/outgoing.ts'
import { type Paced, paced } from './session/paced.ts'
import { NO_PLAN, type Session, type SessionOptions } from './session/public.ts'
import { roomProblem } from './session/room.ts'
import { endRecording, move } from './session/states.ts'
import { isKeeping, nextState } from './state.ts'
import type { RecordingPlan } from './types.ts'

export { NO_PLAN, type Session, type Snapshot } from './session/public.ts'

/**
 * What a read of the line brought is sent on at once, but no more often than this: four times in a frame of
 * a usual screen, so that what came just before a frame is still in it. Events, states and alarms never wait.
 */
const SEND_MS = 4
/** How often it is looked whether the line still speaks. */
const WATCH_MS = 100

/**
 * Opens the line, on the computer whose disk keeps the journals. Resolves once it is open, or with the
 * problem where it cannot be opened.
 */
export async function openSessionOn(computer: Computer, options: SessionOptions): Promise<Outcome<Session>> {
  const line = makeLine(computer, options)
  const stop = new AbortController()
  const sending = paced(() => sendOn(line), SEND_MS)
  const timer = setInterval(watch, WATCH_MS, line)
  letExit(timer)
  const { opening, running } = run(line, sending, stop.signal)
  const problem = await opening
  if (problem) {
    clearInterval(timer)
    return wrong(problem)
  }
  const close = async (): Promise<void> => {
    stop.abort()
    await running
    clearInterval(timer)
    sending.stop()
    await line.ending
    const left = line.recorder
    line.recorder = null
    await left?.recorder.leave()
  }
  return fine(sessionOn(line, sending, close))
}

function watch(line: Line): void {
  watchLine(line)
  tellFloods(line)
}

/**
 * Lets the source speak to the line. `opening`: the problem where it cannot be opened; `running`: until it
 * has ended.
 */
function run(
  line: Line,
  sending: Paced,
  stop: AbortSignal,
): { readonly opening: Promise<Problem | null>; readonly running: Promise<void> } {
  const { source, nowS, alarms } = line
  let tellOpen: (problem: Problem | null) => void = () => {}
  const opening = new Promise<Problem | null>(resolve => {
    tellOpen = resolve
  })
  const remark = (kind: 'line-lost' | 'line-back', text: string): void =>
    keepRemark(line, { what: 'remark', kind, atS: nowS(), text, count: 1 })
  const running = source
    .run(
      {
        opened() {
          if (line.stands === 'lost') {
            line.stands = 'open'
            line.troubles = { ...line.troubles, reopened: line.troubles.reopened + 1 }
            remark('line-back', `${source.name} is back`)
            alarms.lower('line-lost', nowS())
            dropHalfLine(line)
            breakOff(line)
          }
          tellOpen(null)
        },
        bytes(chunk) {
          takeBytes(line, chunk)
          sending.ask()
        },
        lost(problem) {
          line.stands = 'lost'
          remark('line-lost', `${source.name} was lost: ${problem.what}`)
          alarms.raise('line-lost', problem, nowS())
        },
      },
      stop,
    )
    .then(problem => {
      line.stands = 'closed'
      tellOpen(problem)
      sendOn(line)
      line.out.send({ kind: 'closed', problem })
    })
  return { opening, running }
}

async function readyFor(line: Line, next: RecordingPlan): Promise<Problem | null> {
  if (isKeeping(line.state)) return runsAlready(line.source.name)
  await line.ending
  line.ending = null
  const problem = (await readyFolder(line.computer.files, line.journals)) ?? (await roomProblem(line))
  if (problem) return problem
  line.plan = next
  return null
}

const unitShown = ({ columns, isForce }: Line): LogForceUnit =>
  columns === null || (isForce && columns.unit === 'counts') ? 'N' : columns.unit

/** The commands of an open line. */
function sessionOn(line: Line, sending: Paced, close: () => Promise<void>): Session {
  const { source, meter, nowS } = line
  const rule = (): RecordingPlan => line.plan ?? NO_PLAN
  return {
    source: { kind: source.kind, name: source.name },
    subscribe: line.out.add,
    snapshot: () => snapshot(line),
    async arm(next) {
      const problem = await readyFor(line, next)
      if (problem) return wrong(problem)
      meter.zeroWhenQuiet()
      line.signs.restart()
      line.curve.clear()
      line.turns = null
      move(line, nextState(line.state, { kind: 'arm', atS: momentS(line) }, next))
      return fine(line.state)
    },
    disarm() {
      if (line.state.phase !== 'armed') return wrong(nothingArmed(source.name))
      move(line, nextState(line.state, { kind: 'disarm', atS: momentS(line) }, rule()))
      return fine(line.state)
    },
    async start(next) {
      const problem = await readyFor(line, next)
      if (problem) return wrong(problem)
      line.signs.restart()
      move(line, nextState(line.state, { kind: 'start', atS: momentS(line) }, next))
      await line.recorder?.recorder.begun
      return fine(line.state)
    },
    zero({ anyway = false } = {}) {
      const level = meter.level()
      if (level === null) return wrong(noSamplesYet(source.name))
      if (!level.isQuiet && !anyway) return wrong(forceMoves(source.name, level.spread, unitShown(line)))
      const beforeN = meter.zeroFrom === 'none' ? null : meter.zeroN
      meter.zeroNow()
      const text = 'zero taken by the operator'
      keepRemark(line, { what: 'remark', kind: 'zero', atS: nowS(), text, count: 1 })
      line.figuresDue = true
      sending.ask()
      return fine({ zeroN: meter.zeroN, beforeN, spreadN: level.spread })
    },
    turn(by) {
      if (line.state.phase !== 'armed' && !isKeeping(line.state)) return wrong(nothingRuns(source.name))
      if (by === -1 && (line.turns ?? 0) === 0) return wrong(noTurnTapped(source.name))
      line.turns = (line.turns ?? 0) + by
      const text =
        by === 1 ? `turn ${line.turns} of the drive` : `back to turn ${line.turns}: one tap too many`
      keepRemark(line, { what: 'remark', kind: 'turn', atS: nowS(), text, count: by })
      line.figuresDue = true
      sending.ask()
      return fine({ turns: line.turns, travelMm: tappedMm(line) })
    },
    note(text) {
      const shown = text.trim().slice(0, 2_000)
      if (shown === '') return wrong(emptyNote(source.name))
      keepRemark(line, { what: 'remark', kind: 'operator', atS: nowS(), text: shown, count: 1 })
      return fine(line.state)
    },
    finish() {
      move(line, nextState(line.state, { kind: 'finish', atS: momentS(line) }, rule()))
      return endRecording(line)
    },
    async giveUp(reason) {
      move(line, nextState(line.state, { kind: 'give-up', atS: momentS(line), reason }, rule()))
      return endRecording(line)
    },
    lastEnded: async () => line.ending,
    async soFar() {
      // A state is told in the middle of a read of the line: it is taken in whole first.
      await Promise.resolve()
      const running = line.recorder
      if (running === null) return wrong(nothingRuns(source.name))
      return fine({ journal: running.recorder.soFar(), lastSampleS: line.lastSampleS })
    },
    close,
    async moveJournal(folder) {
      return line.recorder === null ? nothingRuns(source.name) : line.recorder.recorder.journal.moveTo(folder)
    },
    get journal() {
      return line.recorder?.recorder.journal.path ?? null
    },
  }
}
