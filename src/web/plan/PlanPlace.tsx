import { useId, useMemo, useState } from 'react'
import { planLeft } from '../../core/answer/studyNext.ts'
import { withMemoryOf } from '../../core/statistics/compare/rememberedLooks.ts'
import { suggestedHazards } from '../../publish/careNotes.ts'
import type { PlaceProps } from '../app/placeProps.ts'
import { useSettings } from '../app/settings.tsx'
import { useUnit } from '../app/units.tsx'
import { peakUnitOf } from '../compare/logUnit.ts'
import { useStudyNext, useUsualComparison } from '../compare/useStudyNext.ts'
import { useStudyChange } from '../data/useStudyChange.ts'
import { Answered } from '../parts/Answered.tsx'
import { DraftArea } from '../parts/DraftArea.tsx'
import { Folded } from '../parts/Folded.tsx'
import { Guard } from '../parts/Guard.tsx'
import { Problems } from '../parts/Problems.tsx'
import { useBenchRig } from '../rig/useBenchRig.ts'
import { SPECIMENS_ID, SpecimensTable } from '../specimens/SpecimensTable.tsx'
import { texts } from '../texts/index.ts'
import { type Asked, askedOf, keptOrder, usualAsked } from './asked.ts'
import { CareNotes } from './CareNotes.tsx'
import { checklistOf } from './checklist.ts'
import { FailureModes } from './FailureModes.tsx'
import { HowMany } from './HowMany.tsx'
import { OrderList } from './OrderList.tsx'
import { PlanLine } from './PlanLine.tsx'
import { type KeptPlan, planNow, recordedOf } from './planNow.ts'
import { QuestionHeading } from './QuestionHeading.tsx'
import { Result } from './Result.tsx'
import { RigFit } from './RigFit.tsx'
import { useSettleSpecimens } from './useSettleSpecimens.ts'
import { Variants } from './Variants.tsx'
import './plan.css'

const t = texts.plan
const NONE: ReadonlySet<string> = new Set()
const newSeed = (): number => Math.floor(Math.random() * 1_000_000)

/** The question, what is compared, how many of each and why, the order, and what to mind. */
export default function PlanPlace({ open }: PlaceProps) {
  const { study, variants } = open
  const id = useId()
  const [firstSeed] = useState(newSeed)
  const [tried, setTried] = useState<Partial<Asked> | null>(null)
  const unit = useUnit(peakUnitOf([open]))
  const { settings } = useSettings()
  const { rig, kept: keptRig } = useBenchRig(study)
  const { change, error } = useStudyChange(study)
  const settling = useSettleSpecimens(study.id, settings.operator)

  const keptAsked = useMemo(() => askedOf(study.plan), [study.plan])
  // A number that was settled on elsewhere holds until a dial is moved.
  const usual = { ...usualAsked(firstSeed), each: tried === null ? study.plannedPerVariant : null }
  const asked: Asked = { ...(keptAsked ?? usual), ...tried }
  const comparison = useUsualComparison(open)
  const step = useStudyNext(open)
  const recorded = useMemo(() => recordedOf(comparison.data), [comparison.data])
  const situation = { variants: namesOf(variants), recorded, rig, studyName: study.name, unit }
  const plan = planNow({ ...situation, asked })
  const isStale =
    planLeft({ plan: study.plan, variants, specimens: open.specimens, pulled: NONE }).plan === 'stale'
  const kept = tried === null && !isStale ? keptOrder(study.plan) : null
  // What is kept binds, whatever the scatter of the pulls so far would ask for now.
  const checklist = checklistOf(kept ?? plan, open)

  const keep = (fields: Partial<Asked>, text: string = t.didPlan) => {
    const next = { ...asked, ...fields }
    const made = planNow({ ...situation, asked: next })
    // Shown at once; what comes back says the same.
    setTried(next)
    const plan: KeptPlan = { ...made, asked: next }
    const kept = withMemoryOf(study.plan, plan)
    void change({ plan: kept, plannedPerVariant: made.perGroup }, text).then(() =>
      setTried(now => (now === next ? null : now)),
    )
  }
  const hazards =
    asked.hazards ??
    suggestedHazards(
      [study.name, study.question, study.method, ...namesOf(variants)].join(' '),
      plan.rig.some(({ check, ok }) => check === 'stroke' && !ok),
    )
  return (
    <div className="plan">
      <PlanLine
        open={open}
        step={step}
        perGroup={plan.perGroup}
        checklist={checklist}
        settling={settling}
        onKeep={() => keep({})}
        onMore={more => keep({ each: mostOfOne(open) + more })}
      />
      <QuestionHeading studyId={study.id} question={study.question} change={change} />
      <Problems error={error ?? settling.error} />
      <p className="plan-printed-head">{t.printedHead(study.name, plan.perGroup)}</p>
      <Variants open={open} isAsked={step?.kind === 'variants' || step?.kind === 'add-variant'} />
      <Result
        study={study}
        quantity={asked.quantity}
        onQuantity={quantity => keep({ quantity })}
        change={change}
      />
      <Guard name={t.howMany}>
        <HowMany
          asked={asked}
          plan={plan}
          recorded={recorded}
          keptPerGroup={kept?.perGroup ?? null}
          isAsked={step?.kind === 'plan' || step?.kind === 'pull-more'}
          onTry={fields => setTried({ ...tried, ...fields })}
          onRelease={() => tried && keep(tried)}
          onKeep={keep}
        />
      </Guard>
      <RigFit
        asked={asked}
        plan={plan}
        unit={unit}
        rigName={keptRig?.name ?? null}
        studyId={study.id}
        onKeep={keep}
      />
      <Guard name={t.order}>
        <OrderList
          checklist={checklist}
          seed={asked.seed}
          studyId={study.id}
          isAsked={step?.kind === 'write-in' || step?.kind === 'pull'}
          onTakeOut={checklist.missing.length === 0 ? () => settling.settle(checklist) : null}
          onNewOrder={checklist.pulled === 0 ? () => keep({ seed: newSeed() }, t.didNewOrder) : null}
        />
      </Guard>
      <div className="not-printed">
        <Folded name={texts.specimens.heading} id={SPECIMENS_ID}>
          <Guard name={texts.specimens.heading}>
            <SpecimensTable open={open} />
          </Guard>
        </Folded>
      </div>
      <CareNotes hazards={hazards} onHazards={next => keep({ hazards: next }, t.didHazards)} />
      <FailureModes open={open} change={change} />
      <Answered
        heading={t.method}
        answer={study.method === '' ? t.notWritten : study.method}
        className="not-printed"
      >
        <p className="pencil" id={id}>
          {t.methodWhat}
        </p>
        <DraftArea
          className="input plan-method"
          aria-labelledby={id}
          rows={5}
          maxLength={10_000}
          keptAs={`method.${study.id}`}
          value={study.method}
          onCommit={method => change({ method }, t.didMethod)}
        />
      </Answered>
    </div>
  )
}

/** A plan of nothing is none: with fewer than two variants it stands for A and B, and the next line asks for names. */
const namesOf = (variants: PlaceProps['open']['variants']): string[] =>
  variants.length > 0 ? variants.map(({ name }) => name) : ['A', 'B']

/** Specimens of the variant that has most. */
const mostOfOne = ({ variants, specimens }: PlaceProps['open']): number =>
  Math.max(0, ...variants.map(({ id }) => specimens.filter(one => one.variantId === id).length))
