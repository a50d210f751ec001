import { letExit } from '../../capture/letExit.ts'
import type { Session, SessionOptions } from '../../capture/session/public.ts'
import type { Source } from '../../capture/source.ts'
import type { CaptureState } from '../../capture/state.ts'
import type {
  Captured,
  LineRig,
  LiveMessage,
  RecordingPlan,
  TurnsTapped,
  ZeroTaken,
} from '../../capture/types.ts'
import { parseRig } from '../../core/calibration/rig.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { LogOptions } from '../../logs/index.ts'
import type { DeskStore } from './deskStore.ts'
import type { HeavyReads } from './heavyReadTypes.ts'
import { type LiveHub, liveHub } from './liveHub.ts'
import { type ViewerMessage, viewerMessage } from './liveMessages.ts'
import { plannedSpecimen } from './livePlan.ts'
import { type LiveReadings, liveReadings } from './liveReadings.ts'
import type { EndedRecording, LineRigFacts, LineState, LiveReading, SpecimenCommand } from './liveTypes.ts'
import { type Kept, type Safekeeping, safekeeping } from './safekeeping.ts'
import type { TakeIn } from './storeCaptured.ts'

export interface LineRequest {
  readonly source: Source
  readonly log: LogOptions
  readonly capacityN: number | null
  readonly rigId: string | null
}

/**
 * The one line to a device that is open in this program, or in this page, and what goes over it: commands from the bench in, the stream to
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
  zero(anyway: boolean): Promise<Outcome<ZeroTaken>>
  turn(by: 1 | -1): Promise<Outcome<TurnsTapped>>
  note(text: string): Promise<Outcome<CaptureState>>
  /** What the recording that runs reads as at this moment. */
  reading(): Promise<Outcome<LiveReading>>
  finish(): Promise<Outcome<EndedRecording>>
  /** Ends the recording as one that does not count: it is kept, set aside. */
  giveUp(why: string): Promise<Outcome<EndedRecording>>
  /** Gives up the recording that runs, or sets the last one aside, and arms the same plan again. */
  redo(why: string): Promise<Outcome<SpecimenCommand>>
  /** The specimen in hand is spoiled: what runs is finished and kept, and the specimen left out of the figures. */
  spoil(why: string): Promise<Outcome<SpecimenCommand>>
  /** What has ended and is not in the store. */
  readonly safekeeping: Safekeeping
  /** Folder of the journals. */
  readonly journals: string
  /** Takes journals in beside. */
  readonly takeIn: TakeIn | undefined
  /** Whether samples of a recording, running or ended, are in memory alone. */
  readonly holds: boolean
  /** Keeps the journal of the recording that runs in another folder. */
  moveJournal(folder: string): Promise<Outcome<null>>
  /** Closes the line and waits for what is being stored. A recording that runs stays in its journal. */
  stop(): Promise<void>
}

const noLine = wrong({
  where: 'the line',
  what: 'no line to a device is open.',
  cure: 'Open one first.',
})

const BEAT_MS = 1_000

export interface DeskOptions {
  readonly store: DeskStore
  /** Folder of the journals. */
  readonly journals: string
  readonly openSession: (options: SessionOptions) => Promise<Outcome<Session>>
  /** Where what takes long is read. */
  readonly beside: HeavyReads
  readonly onTrouble: (problems: readonly Problem[]) => void
}

export function liveDesk({ store, journals, openSession, beside, onTrouble }: DeskOptions): LiveDesk {
  let session: Session | null = null
  let readings: LiveReadings | null = null
  let rig: LineRigFacts | null = null
  let hasEnded = false
  let lastEnded: EndedRecording | null = null
  const storing = new Set<Promise<void>>()
  const keeper = safekeeping({
    store,
    readSpecimen: beside.readSpecimen,
    takeIn: beside.takeIn,
    onStored: tellEnded,
    onChange: unsaved => hub.tell({ kind: 'unsaved', unsaved }),
  })
  const hub = liveHub(snapshot)
  const timer = setInterval(() => hub.tell({ kind: 'beat' }), BEAT_MS)
  letExit(timer)

  function snapshot(): ViewerMessage {
    return {
      kind: 'snapshot',
      line: session?.source.name ?? null,
      rig: session && rig,
      snapshot: session?.snapshot() ?? null,
      reading: session && (readings?.last ?? null),
      unsaved: keeper.unsaved,
    }
  }

  const line = (): LineState => {
    const now = session?.snapshot()
    return {
      open: session && { kind: session.source.kind, name: session.source.name },
      rig: session && rig,
      state: now?.state ?? null,
      plan: now?.plan ?? null,
      recordingId: now?.recordingId ?? null,
    }
  }

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
      const stored = keep(message.captured).finally(() => storing.delete(stored))
      storing.add(stored)
      return
    }
    if (message.kind === 'closed' && session === from) {
      hasEnded = true
      letGo()
    }
    readings?.take(message)
    const told = message.kind === 'turned' ? snapshot() : viewerMessage(message)
    if (told) hub.tell(told)
  }

  const keep = async (captured: Captured): Promise<void> => {
    const kept = await keeper.take(captured)
    lastEnded = null
    tellEnded(captured, kept)
  }

  function tellEnded(captured: Captured, { keptIn, entry, reading, problems }: Kept): void {
    if (problems.length > 0) onTrouble(problems)
    const ended: EndedRecording = {
      recordingId: captured.id,
      specimenId: entry?.specimen?.id ?? null,
      how: captured.how,
      reading: reading?.ok ? reading.value : null,
      keptIn,
      problems: reading === null || reading.ok ? problems : [...reading.problems, ...problems],
    }
    // One that was stored late is not the last one any more where another has ended since.
    if (lastEnded === null || lastEnded.recordingId === captured.id) lastEnded = ended
    hub.tell({ kind: 'stored', ...ended })
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
      if (session) return isOpenAlready(session)
      const found = await rigOf(store, request.rigId)
      if (!found.ok) return found
      const opened = await openSession({
        source: request.source,
        log: request.log,
        capacityN: request.capacityN,
        rig: found.value,
        journals,
        // What is made of it is made beside, so that the next recording is not held up.
        makes: beside.takeIn === undefined ? 'all' : 'none',
      })
      if (!opened.ok) return opened
      const own = opened.value
      session = own
      readings = liveReadings(own, beside.readJournal, reading => hub.tell({ kind: 'reading', ...reading }))
      rig = found.value && factsOf(found.value, request.capacityN)
      hasEnded = false
      lastEnded = null
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
        readings?.stop()
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
    zero: anyway => withSession(open => open.zero({ anyway })),
    turn: by => withSession(open => open.turn(by)),
    note: text => withSession(open => open.note(text)),
    reading: () => withSession(() => readings?.now() ?? noLine),
    finish: () => withSession(async open => stored(await open.finish())),
    giveUp: why => withSession(async open => stored(await open.giveUp(why))),
    redo: why =>
      withSession(async open => {
        const { plan } = open.snapshot()
        if (plan === null) return nothingPulled(open)
        const set = isRecording() ? await stored(await open.giveUp(why)) : await setLastAside(open, why)
        if (!set.ok) return set
        const armed = await open.arm(plan)
        if (!armed.ok) return armed
        const { recordingId, specimenId } = set.value
        return fine({ recordingId, specimenId, state: armed.value })
      }),
    spoil: why =>
      withSession(async open => {
        const { plan, state } = open.snapshot()
        const ended = isRecording() ? await stored(await open.finish()) : await lastStored(open)
        if (!ended.ok) return ended
        if (state.phase === 'armed') open.disarm()
        const last = ended.value
        const planned = last || plan === null ? fine(null) : await plannedSpecimen(store, plan)
        if (!planned.ok) return planned
        const inHand = last?.specimenId ?? planned.value
        if (inHand === null) return nothingPulled(open)
        const left = await store.specimens.update(inHand, { status: 'left-out', statusReason: why })
        if (!left.ok) return left
        return fine({
          recordingId: last?.recordingId ?? null,
          specimenId: inHand,
          state: open.snapshot().state,
        })
      }),
    safekeeping: keeper,
    takeIn: beside.takeIn,
    journals,
    get holds() {
      const running = session?.snapshot().alarms.some(({ code }) => code === 'not-on-disk') ?? false
      return running || keeper.unsaved.some(({ keptIn }) => keptIn === 'memory')
    },
    moveJournal: folder =>
      withSession(async open => {
        const problem = await open.moveJournal(folder)
        return problem ? wrong(problem) : fine(null)
      }),
    async stop() {
      clearInterval(timer)
      readings?.stop()
      await session?.close()
      session = null
      await Promise.all(storing)
      await keeper.stop()
      hub.close()
    },
  }

  /** Once what the session captured is in the store: its listener has begun that before `finish` was fulfilled. */
  async function stored(captured: Outcome<Captured>): Promise<Outcome<EndedRecording>> {
    if (!captured.ok) return captured
    await Promise.all(storing)
    letGo()
    return lastEnded?.recordingId === captured.value.id ? fine(lastEnded) : noLine
  }

  /**
   * The recording that has ended since the line was armed last, once it is in the store; `null`: none has. What ended
   * before that belongs to another specimen.
   */
  async function lastStored(open: Session): Promise<Outcome<EndedRecording | null>> {
    const captured = await open.lastEnded()
    return captured === null ? fine(null) : stored(captured)
  }

  async function setLastAside(
    open: Session,
    why: string,
  ): Promise<Outcome<{ recordingId: string | null; specimenId: string | null }>> {
    const last = await lastStored(open)
    if (!last.ok) return last
    if (last.value === null) return fine({ recordingId: null, specimenId: null })
    const { recordingId, specimenId } = last.value
    const aside = await store.recordings.setAside(recordingId, why)
    return aside.ok ? fine({ recordingId, specimenId }) : aside
  }
}

async function rigOf(store: DeskStore, rigId: string | null): Promise<Outcome<LineRig | null>> {
  if (rigId === null) return fine(null)
  const stored = await store.rigs.get(rigId)
  if (!stored.ok) return stored
  const document = parseRig(JSON.stringify(stored.value.document), `rig “${stored.value.name}”`)
  return document.ok ? fine({ id: rigId, document: document.value }) : document
}

const factsOf = ({ id, document }: LineRig, capacityN: number | null): LineRigFacts => ({
  id,
  name: document.name,
  capacityN: capacityN ?? document.cell.capacityN ?? null,
  strokeMm: document.strokeMm ?? null,
  mmPerTurn: document.drive.mmPerTurn ?? null,
  mmPerSecond: document.drive.mmPerSecond ?? null,
})

const isOpenAlready = ({ source }: Session) =>
  wrong({ where: source.name, what: 'a line is open already.', cure: 'Close it first.' })

const nothingPulled = ({ source }: Session) =>
  wrong({
    where: source.name,
    what: 'no specimen is in hand.',
    cure: 'Arm or start a recording of one first.',
  })
