import { useCallback, useMemo, useRef, useState } from 'react'
import type { Reading } from '../../core/reading/document.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import { useMark, useShownUnit } from '../app/units.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useRigs } from '../data/queries.ts'
import { specimenSource } from '../engine/specimenSource.ts'
import { around, type View } from '../parts/curve/view.ts'
import { Folded } from '../parts/Folded.tsx'
import { Guard } from '../parts/Guard.tsx'
import { Problems } from '../parts/Problems.tsx'
import { typedNumber } from '../parts/typed.ts'
import { texts } from '../texts/index.ts'
import { AmongKind } from './AmongKind.tsx'
import { AdjustSection, AdjustUnderCurve } from './adjust/AdjustSection.tsx'
import { type Draft, type DraftKind, OF_A_STRETCH, seconds } from './adjust/draft.ts'
import { movedPart } from './adjust/movedPart.ts'
import { TRIED_ID, useAdjusting } from './adjust/useAdjusting.ts'
import { anchorOf, EventList } from './EventList.tsx'
import { SpecimenSection } from './facts/SpecimenSection.tsx'
import { pulledIds } from './order.ts'
import { ReadCurve, type Shown } from './ReadCurve.tsx'
import { ReadNext } from './ReadNext.tsx'
import { ResultPanel } from './ResultPanel.tsx'
import { SpecimenSwitch } from './SpecimenSwitch.tsx'
import { TypedResult } from './TypedResult.tsx'
import { useJoined } from './useJoined.ts'
import { useLook } from './useLook.ts'
import { ZeroChoice } from './ZeroChoice.tsx'

/** Seconds that are shown around a moment when it is looked at closer. */
const CLOSER_SHARE = 0.02
const NO_TIMES = { fromS: '', toS: '' }

/** The screen of one specimen: curve, events, result, adjustments, and what is known of it. */
export function ReadSpecimen({ open, specimenId }: { open: OpenStudy; specimenId: string }) {
  const { data: rigs, error: rigsError } = useRigs()
  const specimen = open.specimens.find(({ id }) => id === specimenId)
  const stored = open.readings.find(reading => reading.specimenId === specimenId) ?? null
  const adjusting = useAdjusting(specimenId, stored)
  const made = rigs ? specimenSource(open, specimenId, rigs) : null
  const looked = useLook(made && { ...made, adjustments: adjusting.tried })
  const { shown } = looked
  const isTrying = adjusting.isTried && !adjusting.isKeeping && isTrial(shown)
  const kept = useKept(shown)
  const [isJoined, setJoined] = useState(false)
  const [view, setView] = useState<View | null>(null)
  const [mark, setMark] = useState<View | null>(null)
  const [chosen, setChosen] = useState<string | null>(null)
  const top = useRef<HTMLDivElement>(null)
  const unit = useShownUnit(looked.shown?.look.reading.recording.forceUnit)
  const withMark = useMark()

  const recorded = pulledIds(open).has(specimenId)
  const draft = adjusting.draft
  const needsStretch = draft !== null && OF_A_STRETCH.includes(draft.kind)
  const { start: startDraft, change: changeDraft } = adjusting
  const { fromS, toS } = draft ?? NO_TIMES
  const stretch = useMemo(
    () => (needsStretch ? stretchOf(fromS, toS) : mark),
    [needsStretch, fromS, toS, mark],
  )
  const isShift = draft?.kind === 'shift'
  const span = useMemo(
    () => (isShift && stretch ? { fromS: stretch.from, toS: stretch.to } : null),
    [isShift, stretch],
  )
  const joined = useJoined(shown, span, isJoined)
  const part = useMemo(
    () => (draft && isJoined && joined ? movedPart(draft, joined, TRIED_ID, changeDraft) : null),
    [draft, isJoined, joined, changeDraft],
  )
  const onStretch = useCallback(
    (next: View) => {
      if (needsStretch) changeDraft({ fromS: seconds(next.from), toS: seconds(next.to) })
      else setMark(next)
    },
    [needsStretch, changeDraft],
  )
  const look = useCallback(
    (atS: number) => {
      if (!shown) return
      const { startS, endS } = shown.look.reading.recording
      const half = CLOSER_SHARE * (endS - startS)
      setJoined(false)
      setView(around({ from: atS - half, to: atS + half }, { from: startS, to: endS }))
      top.current?.scrollIntoView({ block: 'nearest' })
    },
    [shown],
  )
  const start = useCallback<typeof startDraft>(
    (kind, given) => {
      startDraft(kind, given)
      setMark(null)
      // A stretch is marked over time; a part is moved on the curve that it is a part of.
      if (kind === 'shift') setJoined(given?.fromS !== undefined)
      if (kind === 'shift') setView(null)
    },
    [startDraft],
  )
  const settle = (kind: DraftKind, given: Partial<Draft>) => {
    if (!shown) return
    const peakOf = ({ results }: Reading) => peakWords(results.peakForce, unit)
    const before = peakOf(shown.look.reading)
    adjusting.settle(kind, given, now =>
      withMark(texts.read.zeroChoice.settled(before, peakOf(now.reading as Reading))),
    )
  }
  const onJoined = useCallback((next: boolean) => {
    setJoined(next)
    setView(null)
  }, [])
  const onEvent = useCallback((id: string) => {
    setChosen(id)
    document.getElementById(anchorOf(id))?.scrollIntoView({ block: 'nearest' })
  }, [])
  if (!specimen) return null

  return (
    <>
      <ReadNext
        open={open}
        specimen={specimen}
        isRecorded={recorded}
        shown={kept}
        tried={isTrying ? shown : null}
        unit={unit}
        error={looked.error ?? rigsError}
        adjusting={adjusting}
      />
      <div ref={top} className="read-head">
        <h1>{specimen.name}</h1>
        <SpecimenSwitch open={open} specimenId={specimenId} />
      </div>
      <Problems error={looked.error ?? rigsError} />
      {!made && specimen.typedPeak && stored && <TypedResult reading={stored.reading} />}
      {shown && (
        <>
          <div aria-busy={looked.isBusy}>
            <ReadCurve
              shown={shown}
              before={isTrying ? kept : null}
              unit={unit}
              joined={isJoined && joined ? joined.look : null}
              part={part}
              isJoined={isJoined}
              onJoined={onJoined}
              view={view}
              onView={setView}
              stretch={stretch}
              onStretch={onStretch}
              marking={needsStretch}
              onEvent={onEvent}
            />
          </div>
          <AdjustUnderCurve
            adjusting={adjusting}
            marked={mark}
            onStart={start}
            onClear={() => setMark(null)}
            onMove={span && !isJoined ? () => onJoined(true) : null}
            before={kept?.look.reading ?? null}
            after={isTrying ? shown.look.reading : null}
            unit={unit}
          />
          {!draft && (
            <ZeroChoice
              peak={shown.look.reading.results.peakForce}
              choices={shown.look.zeroChoices}
              unit={unit}
              isKeeping={adjusting.isKeeping}
              onSay={settle}
            />
          )}
          <div className="read-below">
            <div>
              <EventList
                reading={shown.look.reading}
                unit={unit}
                chosen={chosen}
                onLook={look}
                onAdjust={start}
              />
              <AdjustSection
                specimenId={specimenId}
                adjusting={adjusting}
                isMarked={mark !== null && !draft}
                onStart={start}
              />
            </div>
            <ResultPanel shown={shown} unit={unit} onLook={look} />
          </div>
          <p className="hidden-words" role="status">
            {looked.isBusy
              ? texts.read.busy
              : withMark(peakWords(shown.look.reading.results.peakForce, unit))}
          </p>
        </>
      )}
      {shown && (
        <Folded key={specimenId} name={texts.read.kind.heading}>
          <Guard name={texts.read.kind.heading}>
            <AmongKind open={open} specimenId={specimenId} unit={unit} />
          </Guard>
        </Folded>
      )}
      <SpecimenSection open={open} specimen={specimen} />
    </>
  )
}

const isTrial = (shown: Shown | null): boolean =>
  shown?.at.adjustments.some(({ id }) => id === TRIED_ID) ?? false

/** The last reading that was shown with nothing tried: what a draft is compared with. */
function useKept(shown: Shown | null): Shown | null {
  const [kept, setKept] = useState<Shown | null>(null)
  const plain = isTrial(shown) ? kept : shown
  if (plain !== kept) setKept(plain)
  return plain
}

function stretchOf(fromS: string, toS: string): View | null {
  const [from, to] = [typedNumber(fromS), typedNumber(toS)]
  return from !== null && to !== null && to > from ? { from, to } : null
}
