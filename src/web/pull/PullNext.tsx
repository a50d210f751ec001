import type { ReactNode } from 'react'
import { StudyStepLine } from '../app/StepAction.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useLine } from '../live/useLive.tsx'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'
import type { Moment } from './moments.ts'
import type { Pull } from './usePull.ts'

const words = texts.pull.next
const { buttons } = texts.pull

/** The line that says what to do now: always with the key that does it. */
export function PullNext({
  open,
  pull,
  known,
  onPractise,
}: {
  open: OpenStudy
  pull: Pull
  /** The line that was opened before, for people. */
  known: string | null
  onPractise: () => void
}) {
  const host = useLine()
  const { moment, name, isBusy } = pull
  const press = (text: string) => (
    <button type="button" className="button button-main" disabled={isBusy} onClick={() => pull.press('go')}>
      {text}
    </button>
  )
  const isAllPulled = open.specimens.length > 0 && pull.left.length === 0
  const isJoining = pull.live.server === 'joining'
  const lines: Readonly<Record<Moment, () => ReactNode>> = {
    away: () => (host.kind === 'server' ? words.away : words.awayInPage),
    'no-line': () =>
      isJoining ? (
        words.joining
      ) : isAllPulled ? (
        <StudyStepLine open={open} here="pull" />
      ) : (
        [
          known === null ? words.noLine : words.openAgain(known),
          <span key="open" className="row">
            {press(buttons.openLine)}
            <button type="button" className="button" disabled={isBusy} onClick={onPractise}>
              {buttons.practise}
            </button>
          </span>,
        ]
      ),
    'line-lost': () => words.lineLost,
    'no-specimen': () =>
      open.specimens.length === 0 ? words.noneAtAll : <StudyStepLine open={open} here="pull" />,
    ready: () => [words.ready(name), press(buttons.arm)],
    loaded: () => [
      words.loaded(pull.forceNow()),
      <button key="zero" type="button" className="button button-main" onClick={() => pull.press('zero')}>
        {buttons.zero}
      </button>,
    ],
    'asking-zero': () => [words.askingZero, press(buttons.takeZero)],
    armed: () => [
      words.armed(name),
      <button
        key="disarm"
        type="button"
        className="button button-main"
        disabled={isBusy}
        onClick={() => pull.press('escape')}
      >
        {buttons.disarm}
      </button>,
    ],
    slack: () => words.slack,
    pulling: () => words.pulling,
    'let-go': () => [words.letGo, press(buttons.finish)],
    ended: () => [
      pull.specimen !== null && pull.specimen.failureMode === null
        ? words.ended(name)
        : words.endedPlain(name, pull.ended?.isKept ?? false),
      press(buttons.keep),
    ],
  }
  return <NextLine>{pull.isElsewhere ? words.elsewhere : keyed(lines[moment]())}</NextLine>
}

/** A sentence and its button, side by side. */
const keyed = (line: ReactNode): ReactNode => {
  if (typeof line === 'string') return <span>{line}</span>
  if (!Array.isArray(line)) return line
  return (
    <>
      <span>{line[0]}</span>
      {line[1]}
    </>
  )
}
