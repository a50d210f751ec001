import { expose, wrap } from 'comlink'
import { allOf } from '../../capture/journal/frames.ts'
import { pretendKinds } from '../../capture/pretend/index.ts'
import { NO_PLAN } from '../../capture/session/public.ts'
import { openSessionOn } from '../../capture/session.ts'
import type { Source } from '../../capture/source.ts'
import { type PagePort, pagePort } from '../../capture/sources/page.ts'
import { pretendSource } from '../../capture/sources/pretend.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { LogOptions } from '../../logs/index.ts'
import type { Line, Plan } from '../../server/apiTypes.ts'
import type { HeavyReads } from '../../server/desk/heavyReadTypes.ts'
import { takeLeftBehind } from '../../server/desk/leftBehind.ts'
import { type LiveDesk, liveDesk } from '../../server/desk/liveDesk.ts'
import { recordingPlan } from '../../server/desk/livePlan.ts'
import type { TakeIn } from '../../server/desk/storeCaptured.ts'
import { announce } from '../data/otherTabs.ts'
import { pageDeskStore } from './deskStore.ts'
import { JOURNALS, pageComputer } from './pageComputer.ts'
import { feedFrom } from './portChannel.ts'
import { readOnPage } from './readOnPage.ts'
import { studyLock } from './studyLock.ts'
import type { PageDesk, PageEngine } from './types.ts'
import { viewerAt } from './viewerChannel.ts'

/** Runs the line of a page in this thread: the desk that the server has too, over the storage of the browser. */
export function serveLine(): void {
  let engine: PageEngine | null = null
  // Recordings are made where they are read, so that this thread has the line alone to look after.
  const takeIn: TakeIn = async (path, how) => engine?.takeIn(path, how) ?? notBegun
  const beside: HeavyReads = {
    takeIn,
    readJournal: async journal => engine?.readJournal(journal) ?? notBegun,
    readSpecimen: async specimenId => (engine === null ? notBegun : readOnPage(engine)(specimenId)),
  }
  const desk = liveDesk({
    store: pageDeskStore,
    journals: JOURNALS,
    openSession: options => openSessionOn(pageComputer, options),
    beside,
    // What a window must know of is told to it with the recording.
    onTrouble: () => {},
  })
  const port = pagePort()
  const lock = studyLock(desk)
  const recover = () => takeLeftBehind(JOURNALS, pageComputer, takeIn)
  /** Arms or starts by what was asked, the study being held. */
  const begun = async (asked: Plan, begin: LiveDesk['arm']) => {
    const { study = null, variant = null, specimen = null, operator = null } = asked.about ?? {}
    const about = { study, variant, specimen, operator }
    const plan = await recordingPlan(pageDeskStore, { ...NO_PLAN, ...given(asked), about })
    return plan.ok ? lock.around(plan.value, () => begin(plan.value)) : plan
  }

  const served: PageDesk = {
    async begin(given) {
      engine = wrap<PageEngine>(given) as unknown as PageEngine
      const { recovered, problems } = await recover()
      if (recovered.length > 0) announce()
      return { recordings: recovered.map(({ name, samples }) => ({ name, samples })), problems }
    },
    line: async () => desk.line(),
    async open(line) {
      const source = sourceOf(line, port)
      const { log = {}, capacityN = null, rigId = null } = line
      return source.ok
        ? desk.open({ source: source.value, log: given(log) as LogOptions, capacityN, rigId })
        : source
    },
    close: () => desk.close(),
    arm: plan => begun(plan, desk.arm),
    disarm: () => desk.disarm(),
    start: plan => begun(plan, desk.start),
    zero: anyway => desk.zero(anyway),
    turn: by => desk.turn(by),
    note: text => desk.note(text),
    finish: () => desk.finish(),
    giveUp: why => desk.giveUp(why),
    redo: why => lock.around(desk.line().plan ?? NO_PLAN, () => desk.redo(why)),
    spoil: why => desk.spoil(why),
    async join(viewer) {
      viewerAt(viewer, desk.hub)
    },
    joinPort: async given => feedFrom(given, port),
    async tryNow() {
      await desk.safekeeping.tryNow()
      await recover()
    },
    async journal(id) {
      const journal = desk.safekeeping.journal(id)
      return journal.ok ? fine(await allOf(journal.value)) : journal
    },
  }
  expose(served)
}

function sourceOf({ source }: Line, port: PagePort): Outcome<Source> {
  switch (source.kind) {
    case 'page': {
      const name = `serial port of this browser, ${source.name}, ${source.baud} baud`
      const found = port.source(name)
      return found ? fine(found) : wrong(noPort(name))
    }
    case 'pretend': {
      const kind = pretendKinds.find(known => known === source.pull)
      if (kind) return fine(pretendSource({ kind, seed: source.seed ?? 1, speed: source.speed ?? 1 }))
      return wrong({
        where: 'pretend rig',
        what: `there is no pull called “${source.pull}”.`,
        cure: `Take one of ${pretendKinds.join(', ')}.`,
      })
    }
    default:
      return wrong({
        where: 'the line',
        what: 'a page by itself opens no such line.',
        cure: 'Start Tenterhook as a program for it; here, take a serial port of this computer.',
      })
  }
}

/** Without the fields that are there but say nothing. */
type Given<T> = { [K in keyof T]?: Exclude<T[K], undefined> }
const given = <T extends object>(fields: T): Given<T> =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as Given<T>

const noPort = (where: string): Problem => ({
  where,
  what: 'this window has no port open.',
  cure: 'Open the line again.',
})

const notBegun = wrong({
  where: 'the line',
  what: 'the page is still opening.',
  cure: 'Try again in a moment.',
})
