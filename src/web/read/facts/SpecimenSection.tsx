import { memo } from 'react'
import type { Specimen } from '../../../server/apiTypes.ts'
import type { OpenStudy } from '../../data/backend.ts'
import { Conflict } from '../../data/trouble.ts'
import { Answered } from '../../parts/Answered.tsx'
import { Folded } from '../../parts/Folded.tsx'
import { Problems } from '../../parts/Problems.tsx'
import { SpecimensTable } from '../../specimens/SpecimensTable.tsx'
import { texts } from '../../texts/index.ts'
import { FACTS_ID } from '../ids.ts'
import { FailureMode } from './FailureMode.tsx'
import { LeftOut } from './LeftOut.tsx'
import { Notes } from './Notes.tsx'
import { Photos } from './Photos.tsx'
import { SpecimenFields } from './SpecimenFields.tsx'
import { useSpecimenChange } from './useSpecimenChange.ts'
import { VariantField } from './VariantField.tsx'

/** What is known of a specimen beside its curve: how it failed, who, when, how large, notes and pictures. */
export const SpecimenSection = memo(function SpecimenSection({
  open,
  specimen,
}: {
  open: OpenStudy
  specimen: Specimen
}) {
  const change = useSpecimenChange(specimen)
  return (
    <Answered
      id={FACTS_ID}
      className="read-facts"
      heading={texts.read.facts.heading}
      answer={[
        open.variants.find(({ id }) => id === specimen.variantId)?.name ?? texts.specimens.notAssigned,
        specimen.failureMode ?? texts.read.facts.modeNone,
      ].join(' · ')}
      isAsked={
        specimen.variantId === null || (specimen.failureMode === null && open.study.failureModes.length > 0)
      }
    >
      <Problems error={change.error}>
        {change.error instanceof Conflict && (
          <div className="row">
            <button type="button" className="button" onClick={change.forget}>
              {texts.app.showTheirs}
            </button>
            <button type="button" className="button" onClick={change.writeMine}>
              {texts.app.keepMine}
            </button>
          </div>
        )}
      </Problems>
      <div className="read-facts-columns">
        <div>
          <FailureMode study={open.study} specimen={specimen} change={change} />
          <Photos specimen={specimen} />
          <Notes specimen={specimen} />
        </div>
        <div>
          <VariantField specimen={specimen} variants={open.variants} change={change} />
          <SpecimenFields specimen={specimen} change={change} />
          <LeftOut specimen={specimen} change={change} />
        </div>
      </div>
      <Folded name={texts.specimens.heading}>
        <SpecimensTable open={open} />
      </Folded>
    </Answered>
  )
})
