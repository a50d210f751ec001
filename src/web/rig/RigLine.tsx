import type { ReactNode } from 'react'
import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'
import type { Calibrating } from './calibration/useCalibrating.ts'
import type { Checking } from './check/useChecking.ts'
import { hasMovedFrom, levelText, STEADY_S, type Steady } from './line/steady.ts'
import type { BenchLine } from './line/useLineNow.ts'
import { type RigState, rigNext } from './rigNext.ts'

const t = texts.rig

/** What to do now at the rig, with the one button for it. */
export function RigLine({
  state,
  studyId,
  checkMass,
  calibrating,
  checking,
  line,
  onDescribe,
  onMasses,
  onCalibrate,
  onEnd,
}: {
  state: RigState
  studyId: string
  /** `1.000 kg (water jug)`; `null` where there is none. */
  checkMass: string | null
  calibrating: Calibrating
  checking: Checking
  line: BenchLine | null
  onDescribe: () => void
  onMasses: () => void
  onCalibrate: () => void
  onEnd: () => void
}) {
  const { progress, step, outcome } = calibrating
  if (progress && step) {
    const before = progress.points.at(-1)
    const raw = line?.now.mode === 'raw' ? line.now : null
    return (
      <NextLine>
        {raw ? t.hang(step.hang) : t.hangAndType(step.hang)}
        {raw && (
          <TakeButton
            steady={raw.steady}
            before={before ? Number(before.reading) : null}
            onTake={steady => calibrating.take(levelText(steady), steady.step)}
          />
        )}
      </NextLine>
    )
  }
  if (progress) {
    const calibration = outcome?.ok ? outcome.value : null
    return (
      <NextLine>
        {calibration ? t.nextKeep : t.nextMorePoints}
        {calibration ? (
          <Main press={() => void calibrating.keep(calibration).then(isKept => isKept && onEnd())}>
            {t.keep}
          </Main>
        ) : (
          <Main press={calibrating.takeBack}>{t.takeBack}</Main>
        )}
      </NextLine>
    )
  }
  if (checking.step !== null) {
    // Counts that no calibration turns into newton are no force: the reading is then typed.
    const open = line?.now.mode === 'rig' && line.now.unit === 'N' ? line.now : null
    return (
      <NextLine>
        {checking.step === 'empty'
          ? t.checkEmpty(open !== null)
          : t.checkLoaded(checkMass ?? '', open !== null)}
        {open && (
          <TakeButton
            steady={open.steady}
            before={checking.emptyLevel}
            onTake={({ level, standard }) =>
              checking.take({ value: level, standard, isForce: true, greatestN: open.greatestN })
            }
          />
        )}
      </NextLine>
    )
  }
  switch (rigNext(state)) {
    case 'describe':
      return (
        <NextLine>
          {t.nextDescribe}
          <Main press={onDescribe}>{t.describe}</Main>
        </NextLine>
      )
    case 'masses':
      return (
        <NextLine>
          {t.nextMasses(state.isCalibrated ? 1 : 2 - state.masses)}
          <Main press={onMasses}>{t.nameMass}</Main>
        </NextLine>
      )
    case 'calibrate':
      return (
        <NextLine>
          {t.nextCalibrate}
          <Main press={onCalibrate}>{t.goCalibrate}</Main>
        </NextLine>
      )
    case 'off':
      return (
        <NextLine>
          {t.nextOff}
          <Main press={onCalibrate}>{t.goCalibrate}</Main>
        </NextLine>
      )
    case 'check':
      return (
        <NextLine>
          {t.nextCheck(checkMass ?? '')}
          <Main press={checking.begin}>{t.beginCheck}</Main>
        </NextLine>
      )
    case 'pull':
      return (
        <NextLine>
          {t.nextPull}
          <Link className="button button-main" href={addressOf.place(studyId, 'pull')}>
            {t.goPull}
          </Link>
        </NextLine>
      )
  }
}

const Main = ({ press, children }: { press: () => void; children: ReactNode }) => (
  <button type="button" className="button button-main" onClick={press}>
    {children}
  </button>
)

/** Takes the reading once it stands still, and elsewhere than before. */
function TakeButton({
  steady,
  before,
  onTake,
}: {
  steady: Steady | null
  before: number | null
  onTake: (steady: Steady) => void
}) {
  const isReady = steady !== null && steady.forS >= STEADY_S
  const hasMoved = steady !== null && hasMovedFrom(before, steady)
  return (
    <button
      type="button"
      className={isReady && hasMoved ? 'button button-main' : 'button'}
      // Not `disabled`: the keyboard would lose its place each time that the reading moves.
      aria-disabled={!isReady}
      onClick={() => isReady && onTake(steady)}
    >
      {!isReady ? t.waiting : hasMoved ? t.take : t.takeUnmoved}
    </button>
  )
}
