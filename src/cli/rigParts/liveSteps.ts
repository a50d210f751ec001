import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline/promises'
import { NO_PLAN, openSession, type Session, serialSource, tcpSource } from '../../capture/index.ts'
import { applyRig } from '../../core/calibration/applyRig.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { tensionOf } from '../../core/calibration/rigFacts.ts'
import { type GuidedStep, HEALTH_GUIDE, sayNow } from '../../core/health/guide.ts'
import type { HealthRecord } from '../../core/health/types.ts'
import { fine, type Outcome, problemText } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import { type LogOptions, writeCsv } from '../../logs/index.ts'
import { writeWhole } from '../files.ts'
import type { Io } from '../io.ts'

/** A serial port or a network line. */
export interface Line {
  readonly port?: string
  readonly baud?: number
  readonly tcp?: { readonly host: string; readonly port: number }
}

const sourceOf = ({ port = '', baud, tcp }: Line) =>
  tcp ? tcpSource(tcp.host, tcp.port) : serialSource(port, baud === undefined ? {} : { baud })

export interface LiveSteps {
  readonly line: Line
  readonly rig: Rig | null
  readonly log: LogOptions
  readonly askRateHz: number | null
  /** Which of them, in their order. */
  readonly steps: readonly GuidedStep[]
  /** Seconds of each, where it is another than the usual; seconds before each where nobody can be asked. */
  readonly lastsS: number | null
  readonly pauseS: number
  /** Folder to leave the logs of the steps in, as `free.csv` and so on. */
  readonly logsTo: string | null
}

/**
 * The steps of a check recorded from the line, one after another, with words on standard error. On a terminal each begins
 * when Enter is pressed, and may be left out; Ctrl-C ends the check with what there is by then.
 */
export async function liveSteps(asked: LiveSteps, io: Io): Promise<Outcome<HealthRecord[]>> {
  const journals = await mkdtemp(join(tmpdir(), 'tenterhook-health-'))
  const tension = asked.rig === null ? undefined : tensionOf(asked.rig)
  const opened = await openSession({
    source: sourceOf(asked.line),
    journals,
    // Whether a load raises the reading is what the check is to tell.
    log: { tension: 'positive', ...(tension === undefined ? {} : { tension }), ...asked.log },
    askRateHz: asked.askRateHz,
  })
  if (!opened.ok) return opened
  const end = new AbortController()
  const stop = (): void => end.abort()
  process.on('SIGINT', stop)
  try {
    return await takeSteps(opened.value, asked, end.signal, io)
  } finally {
    process.off('SIGINT', stop)
    await opened.value.close()
    await rm(journals, { recursive: true, force: true })
  }
}

async function takeSteps(
  session: Session,
  asked: LiveSteps,
  ended: AbortSignal,
  io: Io,
): Promise<Outcome<HealthRecord[]>> {
  const records: HealthRecord[] = []
  for (const [i, step] of asked.steps.entries()) {
    if (ended.aborted || session.snapshot().line === 'closed') break
    const { name, how } = HEALTH_GUIDE[step]
    const lastsS = asked.lastsS ?? HEALTH_GUIDE[step].lastsS
    io.err(`\n${i + 1} of ${asked.steps.length}. ${name} (${lastsS} s). ${how}\n`)
    const answer = await askToBegin(asked.pauseS, ended, io)
    if (answer === 'end') break
    if (answer === 'leave-out') continue
    const taken = await record(session, step, lastsS, ended, io)
    if (!taken.ok) {
      for (const problem of taken.problems) io.err(`tenterhook: ${problemText(problem)}\n`)
      continue
    }
    const recording = asRigReads({ ...taken.value, name: `${step}.csv` }, asked.rig)
    if (!recording.ok) return recording
    if (asked.logsTo !== null) {
      const written = await writeWhole(
        join(asked.logsTo, `${step}.csv`),
        [...writeCsv(recording.value)].join(''),
      )
      if (!written.ok) return written
    }
    records.push({ step, recording: recording.value })
  }
  return fine(records)
}

/** Whether the step is to begin. Where there is no terminal to ask on, it does after a while. */
async function askToBegin(
  pauseS: number,
  ended: AbortSignal,
  io: Io,
): Promise<'begin' | 'leave-out' | 'end'> {
  if (!(io.errIsTerminal && process.stdin.isTTY)) {
    if (pauseS > 0) io.err(`It begins in ${pauseS} s.\n`)
    await waited(pauseS, ended)
    return ended.aborted ? 'end' : 'begin'
  }
  const lines = createInterface({ input: process.stdin, output: process.stderr })
  try {
    const answer = await lines.question('Enter begins, s leaves it out, q goes on to the judgement: ', {
      signal: ended,
    })
    const key = answer.trim().toLowerCase()
    return key === 's' ? 'leave-out' : key === 'q' ? 'end' : 'begin'
  } catch {
    return 'end'
  } finally {
    lines.close()
  }
}

/** Columns of the line that counts down. */
const WIDEST = 60

/** Records for so long, counting down on a terminal; shorter where the line ends or Ctrl-C is pressed. */
async function record(
  session: Session,
  step: GuidedStep,
  lastsS: number,
  ended: AbortSignal,
  io: Io,
): Promise<Outcome<Recording>> {
  const begun = await session.start({ ...NO_PLAN, keepBeforeS: 0 })
  if (!begun.ok) return begun
  const gone = new AbortController()
  const leave = session.subscribe(message => {
    if (message.kind === 'closed') gone.abort()
  })
  const stop = AbortSignal.any([ended, gone.signal])
  for (let leftS = lastsS; leftS > 0 && !stop.aborted; leftS--) {
    if (io.errIsTerminal)
      io.err(`\r${`${Math.ceil(leftS)} s to go. ${sayNow(step, lastsS - leftS, lastsS)}`.padEnd(WIDEST)}`)
    await waited(Math.min(1, leftS), stop)
  }
  if (io.errIsTerminal) io.err(`\r${' '.repeat(WIDEST)}\r`)
  leave()
  const captured = await session.finish()
  if (!captured.ok) return captured
  const { recording } = captured.value
  // Nothing that lasts minutes is too long to be held.
  if (recording === null) throw new Error('a step of a check was not made into a recording')
  io.err(`${recording.forceN.length} readings.\n`)
  return fine(recording)
}

function asRigReads(recording: Recording, rig: Rig | null): Outcome<Recording> {
  if (rig === null || rig.calibrations.length === 0) return fine(recording)
  const applied = applyRig(recording, { ...rig, extensionAt: 'specimen' })
  return applied.ok ? fine(applied.value.recording) : applied
}

const waited = (s: number, signal: AbortSignal): Promise<void> =>
  new Promise(resolve => {
    if (signal.aborted) {
      resolve()
      return
    }
    const done = (): void => {
      clearTimeout(timer)
      signal.removeEventListener('abort', done)
      resolve()
    }
    const timer = setTimeout(done, 1000 * s)
    signal.addEventListener('abort', done)
  })
