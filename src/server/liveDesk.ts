import {
  type CaptureState,
  type LiveMessage,
  openSession,
  pretendSource,
  type RecordingPlan,
  type Session,
  type Source,
  serialSource,
  tcpSource,
} from '../capture/index.ts'
import { pretendKinds } from '../capture/pretend/index.ts'
import { printable } from '../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import type { LogOptions } from '../logs/index.ts'
import type { Store } from '../store/index.ts'
import { type LiveHub, liveHub } from './liveHub.ts'
import { type ViewerMessage, viewerMessage } from './liveMessages.ts'
import { journalsFolder, storeCaptured } from './storeCaptured.ts'

/** The line that is open, for the app. */
export interface LineState {
  readonly open: { readonly kind: Source['kind']; readonly name: string } | null
  readonly state: CaptureState | null
}

export interface LineRequest {
  readonly source: Source
  readonly log: LogOptions
  readonly capacityN: number | null
  readonly rigId: string | null
}

/**
 * The one line to a device that the server has open, and what goes over it: commands from the bench in, the stream to
 * all viewers out, each recording that ends into the store.
 */
export interface LiveDesk {
  readonly hub: LiveHub
  line(): LineState
  /** Whether samples are being kept now: what would hold up this process has to wait. */
  readonly recording: boolean
  open(request: LineRequest): Promise<Outcome<LineState>>
  close(): Promise<Outcome<LineState>>
  arm(plan: RecordingPlan): Promise<Outcome<CaptureState>>
  start(plan: RecordingPlan): Promise<Outcome<CaptureState>>
  disarm(): Promise<Outcome<CaptureState>>
  zero(): Promise<Outcome<CaptureState>>
  note(text: string): Promise<Outcome<CaptureState>>
  finish(): Promise<Outcome<{ recordingId: string }>>
  giveUp(reason: string): Promise<Outcome<{ recordingId: string }>>
  /** Closes the line and waits for what is being stored. A recording that runs stays in its journal. */
  stop(): Promise<void>
}

const noLine = wrong({
  where: 'the line',
  what: 'no line to a device is open.',
  cure: 'Open one first.',
})

const LOOK_AFTER_MS = 1_000

export function liveDesk(store: Store, onTrouble: (problems: readonly Problem[]) => void): LiveDesk {
  let session: Session | null = null
  let rigId: string | null = null
  let hasEnded = false
  const storing = new Set<Promise<void>>()
  const hub = liveHub(snapshot)
  const timer = setInterval(() => hub.lookAfter(), LOOK_AFTER_MS)
  timer.unref()

  function snapshot(): ViewerMessage {
    return { kind: 'snapshot', line: session?.source.name ?? null, snapshot: session?.snapshot() ?? null }
  }

  const line = (): LineState => ({
    open: session && { kind: session.source.kind, name: session.source.name },
    state: session?.snapshot().state ?? null,
  })

  const isRecording = (): boolean => {
    const phase = session?.snapshot().state.phase
    return phase === 'recording' || phase === 'rest'
  }

  /** A line that has ended by itself is kept for as long as its recording can still be finished. */
  const letGo = (): void => {
    if (hasEnded && !isRecording()) session = null
  }

  const take = (from: Session, message: LiveMessage): void => {
    if (message.kind === 'captured') {
      const stored = keep(message.captured, from.source.name).finally(() => storing.delete(stored))
      storing.add(stored)
      return
    }
    if (message.kind === 'closed' && session === from) {
      hasEnded = true
      letGo()
    }
    const told = viewerMessage(message)
    if (told) hub.tell(told)
  }

  const keep = async (
    captured: Extract<LiveMessage, { kind: 'captured' }>['captured'],
    device: string,
  ): Promise<void> => {
    const problems = await storeCaptured(store, captured, { device, rigId }).then(
      stored => (stored.ok ? stored.value.readingProblems : stored.problems),
      // The journal is still there: the recording is taken in at the next start.
      (error: unknown) => [problemOfStoring(device, error)],
    )
    if (problems.length > 0) onTrouble(problems)
    hub.tell({ kind: 'stored', recordingId: captured.id, problems })
  }

  const withSession = async <T>(
    work: (session: Session) => Outcome<T> | Promise<Outcome<T>>,
  ): Promise<Outcome<T>> => (session ? work(session) : noLine)

  return {
    hub,
    line,
    get recording() {
      return isRecording()
    },
    async open(request) {
      if (session)
        return wrong({
          where: session.source.name,
          what: 'a line is open already.',
          cure: 'Close it first.',
        })
      const opened = await openSession({
        source: request.source,
        log: request.log,
        capacityN: request.capacityN,
        journals: journalsFolder(store.folder),
      })
      if (!opened.ok) return opened
      const own = opened.value
      session = own
      rigId = request.rigId
      hasEnded = false
      own.subscribe(message => take(own, message))
      hub.tell(snapshot())
      return fine(line())
    },
    close: () =>
      withSession(async open => {
        if (isRecording())
          return wrong({
            where: open.source.name,
            what: 'a recording runs.',
            cure: 'Finish it or give it up first.',
          })
        await open.close()
        if (session === open) session = null
        hub.tell(snapshot())
        return fine(line())
      }),
    arm: plan => withSession(open => open.arm(plan)),
    start: plan =>
      withSession(async open => {
        const started = await open.start(plan)
        // The line may have ended while the recording began: it must be possible to finish it all the same.
        session ??= open
        letGo()
        return started
      }),
    disarm: () => withSession(open => open.disarm()),
    zero: () => withSession(open => open.zero()),
    note: text => withSession(open => open.note(text)),
    finish: () => withSession(async open => stored(await open.finish())),
    giveUp: reason => withSession(async open => stored(await open.giveUp(reason))),
    async stop() {
      clearInterval(timer)
      await session?.close()
      session = null
      await Promise.all(storing)
      hub.close()
    },
  }

  /** Once what the session captured is in the store: its listener has begun that before `finish` was fulfilled. */
  async function stored(
    captured: Awaited<ReturnType<Session['finish']>>,
  ): Promise<Outcome<{ recordingId: string }>> {
    if (!captured.ok) return captured
    await Promise.all(storing)
    letGo()
    return fine({ recordingId: captured.value.id })
  }
}

const problemOfStoring = (device: string, error: unknown): Problem => ({
  where: device,
  what: `the recording could not be put into the store (${error instanceof Error ? error.message : 'unknown fault'}).`,
  cure: 'It is safe in its journal, and taken in at the next start.',
})

/** The source that the app asked for. */
export function sourceOf(
  asked:
    | { kind: 'serial'; path: string; baud?: number | undefined }
    | { kind: 'tcp'; host: string; port: number }
    | { kind: 'pretend'; pull: string; seed: number; speed: number },
): Outcome<Source> {
  switch (asked.kind) {
    case 'serial':
      return fine(serialSource(asked.path, asked.baud === undefined ? {} : { baud: asked.baud }))
    case 'tcp':
      return fine(tcpSource(asked.host, asked.port))
    case 'pretend': {
      const kind = pretendKinds.find(known => known === asked.pull)
      return kind
        ? fine(pretendSource({ kind, seed: asked.seed, speed: asked.speed }))
        : wrong({
            where: 'pretend rig',
            what: `there is no pull called “${printable(asked.pull)}”.`,
            cure: `Take one of ${pretendKinds.join(', ')}.`,
          })
    }
  }
}
