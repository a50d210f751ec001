import { useRef, useState } from 'react'
import { DEMO } from '../../capture/pretend/demoFacts.ts'
import { isPractice } from '../../core/study.ts'
import { FORCE_UNITS, toNewton } from '../../core/units/force.ts'
import { FootSlot } from '../app/undo.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useKept } from '../live/kept.ts'
import { LineChooser } from '../live/LineChooser.tsx'
import { capacityOf } from '../live/lineChoice.ts'
import { isKeepingState } from '../live/liveStore.ts'
import { useLineChoice } from '../live/useLineChoice.ts'
import { useLine } from '../live/useLive.tsx'
import { Problems } from '../parts/Problems.tsx'
import { HealthNotes } from '../rig/health/HealthNotes.tsx'
import { useBenchRig } from '../rig/useBenchRig.ts'
import { texts } from '../texts/index.ts'
import { Alarms } from './Alarms.tsx'
import { BenchTools } from './BenchTools.tsx'
import { Ended } from './Ended.tsx'
import { recordingsBefore } from './ended.ts'
import { HoldButton } from './HoldButton.tsx'
import { LiveCurve } from './LiveCurve.tsx'
import { LiveHead } from './LiveHead.tsx'
import { actOf, type Key } from './moments.ts'
import { NoteForm } from './NoteForm.tsx'
import { NoteList } from './NoteList.tsx'
import { PullNext } from './PullNext.tsx'
import { ReadingNow } from './ReadingNow.tsx'
import { Unsaved } from './Unsaved.tsx'
import { useForceSound } from './useForceSound.ts'
import { useFullScreen } from './useFullScreen.ts'
import { useLeaveWarning } from './useLeaveWarning.ts'
import { useNight } from './useNight.ts'
import { type Pull, usePull } from './usePull.ts'
import { usePullKeys } from './usePullKeys.ts'
import { useScreenAwake } from './useScreenAwake.ts'
import { WhoIsNext } from './WhoIsNext.tsx'
import { plannedMean } from './whoIsNext.ts'
import { ZeroQuestion } from './ZeroQuestion.tsx'
import './pull.css'

const words = texts.pull

/** The place at the bench: one keyboard key drives it, and everything that is told stands on one page. */
export function PullBench({ open }: { open: OpenStudy }) {
  const host = useLine()
  const bench = useBenchRig(open.study)
  // A real pull never goes by the scale of an invented rig unless a person says so.
  const chosen = useLineChoice(bench.kept?.name === DEMO.rigName ? null : (bench.kept?.id ?? null))
  const pull = usePull(open, chosen.take)
  const [paper, setPaper] = useKept('pull.paper')
  const [footKey, setFootKey] = useKept('pull.foot')
  const [hasSound, setSound] = useState(false)
  const [isRoom, setRoom] = useState(false)
  const page = useRef<HTMLDivElement>(null)
  const full = useFullScreen(page)
  const { moment, live, unit, ended } = pull
  const plannedN = plannedNewton(open.study.plan)
  const capacityN = live.rig?.capacityN ?? capacityOf(chosen.choice)
  const isNight = paper === null
  const hasLine = live.line !== null
  useNight(isNight)
  useScreenAwake(pull.isInHand)
  useLeaveWarning(host.kind === 'page' && isKeepingState(live.capture))
  useForceSound(hasSound, plannedN ?? capacityN)
  const openChosen = () => {
    const line = chosen.take()
    if (line) void pull.open(line)
  }
  const practise = () => {
    const line = chosen.practise()
    if (line) void pull.open(line)
  }
  const isHolding = usePullKeys(
    {
      onKey: pull.press,
      onDigit: digit => byDigit(pull, open, digit),
      onSound: () => setSound(!hasSound),
      onRoom: () => setRoom(!isRoom),
    },
    footKey,
  )
  const isOver = moment === 'let-go' || moment === 'ended'
  const reading = ended?.reading ?? (isOver || moment === 'pulling' ? (live.reading?.reading ?? null) : null)
  const isAlone = ended?.isAlone ?? true
  const before = isAlone ? recordingsBefore(open, pull.specimen?.id ?? null, ended?.recordingId ?? null) : 0
  // Once it has let go, what it came to takes the place of the live force.
  const hasResult = isOver && reading !== null
  return (
    <div className="pull" ref={page} data-moment={moment} data-room={isRoom}>
      <PullNext open={open} pull={pull} known={chosen.known} onPractise={practise} />
      <Alarms />
      <Unsaved />
      {moment === 'ready' && <HealthNotes rig={bench.rig} line={live.line} />}
      <div className="pull-said">
        <p className="pull-hint" role="status" data-holding={isHolding}>
          {isHolding && actOf(moment, 'escape-held') === 'give-up' ? words.hints.holding : (pull.hint ?? '')}
        </p>
        <FootSlot />
      </div>
      {moment === 'asking-zero' ? <ZeroQuestion pull={pull} /> : <Problems error={pull.error} />}
      {hasLine && (
        <div className="pull-stage" data-result={hasResult}>
          <div className="pull-top">
            <div className="pull-head">
              <h1>{pull.name}</h1>
              <p className="pull-state">
                {words.states[moment]}
                {live.capture && live.capture.pulls > 1 && moment === 'pulling' && (
                  <span className="pencil"> {words.pulls(live.capture.pulls)}</span>
                )}
              </p>
            </div>
            <LiveHead
              unit={unit}
              plannedN={plannedN}
              rig={live.rig}
              capacityN={capacityN}
              isPractice={isPractice({ device: live.line ?? '' })}
              isSmall={hasResult && !isRoom}
            >
              {reading && (
                <ReadingNow
                  reading={reading}
                  unit={unit}
                  alone={before > 0 ? words.alone(pull.name, before) : null}
                />
              )}
            </LiveHead>
          </div>
          {(ended || pull.panel === 'note') && (
            <div className="pull-asks">
              {ended && <Ended open={open} pull={pull} ended={ended} />}
              {pull.panel === 'note' && <NoteForm pull={pull} />}
            </div>
          )}
          {!isRoom && <LiveCurve unit={unit} name={pull.name} plannedN={plannedN} />}
        </div>
      )}
      {!hasLine && <h1 className="hidden-words">{texts.app.places.pull}</h1>}
      {!hasLine && ended && <Ended open={open} pull={pull} ended={ended} />}
      {hasLine && !ended && <Commands pull={pull} />}
      {!isRoom && (
        <>
          {moment === 'no-line' && <LineChooser chosen={chosen} onOpen={openChosen} />}
          <div className="pull-below">
            <WhoIsNext open={open} pull={pull} />
            <NoteList />
          </div>
        </>
      )}
      <BenchTools
        tools={{ hasSound, isRoom, isFull: full.isFull, isNight, footKey }}
        onSound={() => setSound(!hasSound)}
        onRoom={() => setRoom(!isRoom)}
        onFull={full.toggle}
        onNight={() => setPaper(isNight ? 'paper' : null)}
        onFootKey={setFootKey}
      />
    </div>
  )
}

/** The keys as buttons, for fingers and for those who have not learned them yet: only those that do something now. */
function Commands({ pull }: { pull: Pull }) {
  const { moment, live } = pull
  const button = (key: Key, keyWord: string, text: string) =>
    ['nothing', 'say-load', 'say-hold'].includes(actOf(moment, key)) ? null : (
      <button type="button" className="button" onClick={() => pull.press(key)}>
        <kbd>{keyWord}</kbd> {text}
      </button>
    )
  const { keysOf, buttons } = words
  const isKeeping = moment === 'slack' || moment === 'pulling' || moment === 'let-go'
  return (
    <div className="row pull-commands">
      {button('note', keysOf.note, buttons.note)}
      {moment !== 'asking-zero' && button('zero', keysOf.zero, buttons.zero)}
      {button('turn', keysOf.turn, buttons.turn)}
      {button('turn-back', keysOf.turnBack, buttons.turnBack)}
      {button('speak', keysOf.speak, buttons.speak)}
      {actOf(moment, 'note') === 'note' &&
        words.quickNotes.map((note, at) => (
          <button
            key={note}
            type="button"
            className="button"
            title={words.quickNote(note)}
            onClick={() => void pull.quickNote(note)}
          >
            <kbd>{at + 1}</kbd> {note}
          </button>
        ))}
      {moment === 'ready' && (
        <button type="button" className="button" onClick={() => void pull.start()}>
          {buttons.start}
        </button>
      )}
      {(moment === 'ready' || moment === 'no-specimen' || moment === 'line-lost' || moment === 'loaded') && (
        <button type="button" className="button" onClick={() => void pull.closeLine()}>
          {buttons.closeLine}
        </button>
      )}
      {isKeeping && live.server === 'here' && (
        <>
          {moment !== 'let-go' && (
            <HoldButton onHeld={() => void pull.finish()}>{buttons.finishUnderLoad}</HoldButton>
          )}
          <HoldButton onHeld={() => void pull.giveUp()}>{buttons.giveUp}</HoldButton>
        </>
      )}
    </div>
  )
}

/** While it pulls the first digits are notes by themselves; after it they say how the specimen failed. */
function byDigit(pull: Pull, { study }: OpenStudy, digit: number): void {
  if (pull.moment === 'ended') {
    const mode = study.failureModes[digit - 1]
    if (mode !== undefined) void pull.sayMode(mode)
    return
  }
  const note = words.quickNotes[digit - 1]
  if (note !== undefined && actOf(pull.moment, 'note') === 'note') void pull.quickNote(note)
}

/** The peak that the plan expects; `null` where it says none, or in something that is no force. */
function plannedNewton(plan: unknown): number | null {
  const planned = plannedMean(plan)
  const unit = FORCE_UNITS.find(known => known === planned?.unit)
  return planned && unit ? toNewton(planned.value, unit) : null
}
