import type { Specimen, Variant } from '../../../server/apiTypes.ts'
import { texts } from '../../texts/index.ts'
import { VARIANT_ID } from '../ids.ts'
import type { useSpecimenChange } from './useSpecimenChange.ts'

const words = texts.read.facts

/** The variant that the specimen is of; without one it counts in no figure, and that is said. */
export function VariantField({
  specimen,
  variants,
  change,
}: {
  specimen: Specimen
  variants: readonly Variant[]
  change: ReturnType<typeof useSpecimenChange>
}) {
  const id = VARIANT_ID
  return (
    <div className="field">
      <label htmlFor={id}>{words.variant}</label>
      <select
        id={id}
        className="input"
        value={specimen.variantId ?? ''}
        aria-describedby={specimen.variantId === null ? `${id}-hint` : undefined}
        onChange={event =>
          change.change(
            { variantId: event.target.value === '' ? null : event.target.value },
            words.changed(words.variant),
          )
        }
      >
        <option value="">{words.notAssigned}</option>
        {variants.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
      {specimen.variantId === null && (
        <span id={`${id}-hint`} className="warning small">
          {words.notAssignedWhy}
        </span>
      )}
    </div>
  )
}
