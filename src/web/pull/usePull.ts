import { useEffect, useRef, useState } from 'react'
import { plainNumber, showForce, threeDigits } from '../../core/units/showForce.ts'
import type { Line, Plan, Specimen } from '../../server/apiTypes.ts'
import { useBench } from '../app/context.tsx'
import { useSettings } from '../app/settings.tsx'
import { useFoot } from '../app/undo.tsx'
import { useMark, useUnit } from '../app/units.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useRefresh } from '../data/queries.ts'
import { Trouble } from '../data/trouble.ts'
import { useKept } from '../live/kept.ts'
import { isKeepingState } from '../live/liveStore.ts'
import { useLine, useLiveState, useLiveStore } from '../live/useLive.tsx'
import { texts } from '../texts/index.ts'
import { unanswered } from './ended.ts'
import { liveForce } from './liveMarks.ts'
import { type Act, actOf, type Key, type Moment, momentOf } from './moments.ts'
import { say, spokenForce } from './sayForce.ts'
import { useHint } from './useHint.ts'
import { useReturn } from './useReturn.ts'
import { toPull } from './whoIsNext.ts'

const words = texts.pull
/** Notes that are written later than this say so. */
const LATE_MS = 2_000

export type Panel = 'zero' | 'note' | 'redo' | 'spoil'
export type Pull = ReturnType<typeof usePull>

/** All that the place knows and can do: the moment, whose turn it is, and each act of the state table. */
export function usePull(open: OpenStudy, openLine: () => Line | null) {
  const host = useLine()
  const store = useLiveStore()
  const live = useLiveState()
  const { backend } = useBench()
  const { settings } = useSettings()
  const foot = useFoot()
  const mark = useMark()
  const [chosenId, setChosen] = useState<string | null>(null)
  const [answeredKey, setAnswered] = useKept('pull.answered', 'session')
  const [answeredId, setAnsweredId] = useState<string | null>(null)
  const [panel, setPanel] = useState<Panel | null>(null)
  const [error, setError] = useState<unknown>(null)
  const [isBusy, setBusy] = useState(false)
  const { hint, setHint } = useHint()
  const unit = useUnit(live.logUnit ?? undefined)
  const notedMs = useRef(0)

  const { capture, plan } = live
  // What was kept just now is still told as not pulled until the study has been read again.
  const left = toPull(open).filter(({ id }) => id !== answeredId)
  const ended = unanswered(live, answeredKey)
  const isInHand = capture?.phase === 'armed' || isKeepingState(capture) || ended !== null
  const inHandId = isInHand ? (ended?.specimenId ?? plan?.specimenId ?? null) : null
  const specimen: Specimen | null =
    open.specimens.find(({ id }) => id === (isInHand ? inHandId : chosenId)) ??
    (isInHand ? null : (left[0] ?? null))
  const isElsewhere = isInHand && specimen === null && plan !== null && plan.about.specimen !== null
  const name = specimen?.name ?? (isInHand ? plan?.about.specimen : null) ?? words.specimenless
  const moment: Moment = momentOf({
    isAway: live.server === 'away',
    line: live.line === null && live.lineIs !== 'closed' ? null : live.lineIs,
    phase: capture?.phase ?? null,
    pulls: capture?.pulls ?? 0,
    isPulling: capture?.pulling ?? false,
    isLoaded: live.isLoaded,
    isAskingZero: panel === 'zero',
    hasEnded: ended !== null,
    hasSpecimen: specimen !== null,
  })
  useEffect(() => {
    if (moment === 'pulling' && panel === 'zero') setPanel(null)
    if (moment !== 'ended' && (panel === 'redo' || panel === 'spoil')) setPanel(null)
  }, [moment, panel])

  const refresh = useRefresh()
  const { endedLate } = live
  useEffect(() => {
    for (const { where, what, cure } of endedLate?.problems ?? []) foot.say(`${where}: ${what} ${cure}`)
  }, [endedLate, foot])
  useReturn(
    live.returns,
    live.line !== null,
    isKeepingState(capture) ? { id: inHandId, name } : null,
    was => {
      void refresh()
      setChosen(was?.id ?? null)
      const gone = was ? words.hints.returnedNoLine(was.name) : words.hints.returnedNothing
      setHint(live.line !== null ? words.hints.returned : gone)
    },
  )

  const run = async <T>(work: () => Promise<T>, then?: (value: T) => void): Promise<void> => {
    setBusy(true)
    setError(null)
    try {
      const value = await work()
      then?.(value)
    } catch (problem) {
      setError(problem)
    } finally {
      setBusy(false)
    }
  }
  const forceNow = (): string => {
    const { figures, restlessN } = store.frame
    if (figures === null || figures.forceN === null) return '–'
    return figures.forceIn === 'counts'
      ? `${mark(threeDigits(figures.forceN))} ${words.counts}`
      : mark(liveForce(figures.forceN, restlessN, unit))
  }
  const planOf = (of: Specimen | null): Plan => ({
    specimenId: of?.id ?? null,
    about: { operator: settings.operator === '' ? null : settings.operator },
  })
  const arm = () => run(() => host.arm(planOf(specimen)))
  /** A pretend rig does not wait until somebody is ready: it is waited for at once. */
  const openAnd = (line: Line) =>
    run(async () => {
      await host.open(line)
      if (line.source.kind === 'pretend' && specimen) await host.arm(planOf(specimen))
    })
  const answer = () => {
    if (ended) {
      setAnswered(ended.key)
      setAnsweredId(ended.specimenId)
    }
    setChosen(null)
    setPanel(null)
  }
  const leaveOut = (specimenId: string, of: string, leave: () => Promise<unknown>) =>
    run(async () => {
      await leave()
      answer()
      await refresh()
      foot.did(words.hints.spoiled(of), async () => {
        await backend.specimens.change(specimenId, { status: 'pulled', statusReason: '' })
        await refresh()
      })
    })
  /** A pretend rig's line ends with its pull: what was recorded over it can then be changed in the store alone. */
  const isGone = live.line === null || live.lineIs === 'closed'

  const acts: Readonly<Record<Act, () => void>> = {
    'open-line': () => {
      const line = openLine()
      if (line) void openAnd(line)
    },
    arm: () => void arm(),
    disarm: () => void run(() => host.disarm()),
    'ask-zero': () => {
      setError(null)
      setPanel('zero')
    },
    'take-zero': () => void takeZero(false),
    'leave-zero': () => {
      setPanel(null)
      setError(null)
    },
    finish: () => void run(() => host.finish()),
    'give-up': () => void giveUp(),
    note: () => {
      notedMs.current = Date.now()
      setPanel('note')
    },
    turn: () => void turn(1),
    'turn-back': () => void turn(-1),
    speak: () => {
      const forceN = store.frame.figures?.forceN
      const { reading } = ended ?? {}
      const peakN = moment === 'ended' ? (reading?.results.peakForce.valueN ?? null) : null
      if (peakN !== null) say(spokenForce(peakN, unit, mark))
      else if (typeof forceN === 'number') say(spokenForce(forceN, unit, mark))
    },
    keep: answer,
    redo: () => setPanel('redo'),
    spoil: () => setPanel('spoil'),
    'pull-on': () => {
      const again = specimen
      answer()
      if (!again) return
      setChosen(again.id)
      if (!isGone) void arm()
    },
    'say-load': () => setHint(words.hints.load(forceNow())),
    'say-hold': () => setHint(words.hints.hold),
    nothing: () => {},
  }

  const takeZero = (anyway: boolean) =>
    run(
      () => host.zero(anyway),
      ({ zeroN }) => {
        setPanel(null)
        setHint(words.hints.zeroTaken(mark(showForce(zeroN, null, unit))))
      },
    )
  const giveUp = () =>
    run(
      () => host.giveUp(words.why.givenUp),
      ({ recordingId, keptIn }) => {
        foot.did(words.hints.givenUp(keptIn !== 'memory'), async () => {
          await backend.recordings.takeBack(recordingId)
          await refresh()
        })
        void refresh()
      },
    )
  const turn = (by: 1 | -1) =>
    run(
      () => host.turn(by),
      ({ turns, travelMm }) =>
        setHint(words.hints.turns(turns, travelMm === null ? null : `${mark(plainNumber(travelMm, 1))} mm`)),
    )
  const note = (text: string) =>
    run(
      () => host.note(text),
      () => setHint(words.hints.noteKept(text)),
    )

  return {
    live,
    moment,
    specimen,
    name,
    left,
    unit,
    panel,
    error,
    hint,
    isBusy,
    ended,
    isElsewhere,
    isInHand,
    forceNow,
    press: (key: Key) => acts[actOf(moment, key)](),
    choose: setChosen,
    openPanel: setPanel,
    refresh,
    open: openAnd,
    closeLine: () => run(() => host.close()),
    /** Records without waiting for a tug: for a rig that pulls too softly to be noticed. */
    start: () => run(() => host.start(planOf(specimen))),
    finish: () => run(() => host.finish()),
    giveUp,
    takeZeroAnyway: () => takeZero(true),
    quickNote: note,
    sendNote(text: string) {
      const agoMs = Date.now() - notedMs.current
      setPanel(null)
      void note(agoMs > LATE_MS ? words.noteLate(text, Math.round(agoMs / 1_000)) : text)
    },
    redoBecause(why: string) {
      const { recordingId } = ended ?? {}
      if (!isGone) return run(() => host.redo(why))
      return run(async () => {
        // Its id is told once it is kept, a moment after its end.
        if (!recordingId) throw new Trouble([{ where: name, ...words.notKeptYet }])
        await backend.recordings.setAside(recordingId, why)
        const again = specimen?.id ?? null
        answer()
        setChosen(again)
        await refresh()
      })
    },
    spoilBecause(why: string) {
      const specimenId = specimen?.id
      if (!isGone) return leaveOut(specimenId ?? '', name, () => host.spoil(why))
      if (specimenId === undefined) return Promise.resolve()
      return leaveOut(specimenId, name, () =>
        backend.specimens.change(specimenId, { status: 'left-out', statusReason: why }),
      )
    },
    sayMode(mode: string | null) {
      if (!specimen) return Promise.resolve()
      const { id, failureMode: before, name: of } = specimen
      const { study } = open
      return run(async () => {
        // What was said in one's own words is offered for the next specimen.
        if (mode !== null && !study.failureModes.includes(mode))
          await backend.studies.change(study.id, {
            failureModes: [...study.failureModes, mode],
            basedOn: study.updatedAt,
          })
        await backend.specimens.change(id, { failureMode: mode })
        await refresh()
        foot.did(words.hints.modeKept(of), async () => {
          await backend.specimens.change(id, { failureMode: before })
          await refresh()
        })
      })
    },
  }
}
