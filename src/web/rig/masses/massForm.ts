import { type Mass, massOf } from '../../../core/calibration/references.ts'
import { type Reference, referencesSchema } from '../../../core/calibration/referencesDocument.ts'
import { fine, type Outcome } from '../../../core/problem.ts'
import { typedNumber } from '../../parts/typed.ts'

export const MASS_KINDS = ['weighed', 'weight', 'water', 'coins'] as const
export type MassKind = (typeof MASS_KINDS)[number]

/** The form of a mass, as typed. */
export interface MassForm {
  readonly kind: MassKind
  readonly name: string
  readonly kg: string
  /** Limits ± of the scale that weighed it, or of a bought weight, in grams. */
  readonly limitG: string
  readonly litres: string
  readonly limitMl: string
  readonly temperatureC: string
  readonly count: string
  readonly eachG: string
}

export const BLANK_MASS: MassForm = {
  kind: 'weighed',
  name: '',
  kg: '',
  limitG: '',
  litres: '',
  limitMl: '5',
  temperatureC: '20',
  count: '',
  eachG: '',
}

export type MassField = Exclude<keyof MassForm, 'kind'>

/** What each kind asks for beside its name. */
export const FIELDS_OF: Readonly<Record<MassKind, readonly MassField[]>> = {
  weighed: ['kg', 'limitG'],
  weight: ['kg', 'limitG'],
  water: ['litres', 'limitMl', 'temperatureC'],
  coins: ['count', 'eachG'],
}

/** May be left empty. */
export const MAY_BE_EMPTY: ReadonlySet<string> = new Set(['weight limitG'])

/** A mass from the form, or the fields that are not right yet. A name must be new and may hold no `+`: that joins stacks. */
export function massFrom(
  form: MassForm,
  taken: ReadonlySet<string>,
):
  | { readonly name: string; readonly reference: Reference; readonly mass: Mass }
  | { readonly faults: readonly MassField[] } {
  const name = form.name.trim()
  const faults: MassField[] = FIELDS_OF[form.kind].filter(field => {
    const value = typedNumber(form[field])
    if (form[field].trim() === '') return !MAY_BE_EMPTY.has(`${form.kind} ${field}`)
    return (
      value === null ||
      (field !== 'temperatureC' && !(value > 0)) ||
      (field === 'count' && !Number.isInteger(value))
    )
  })
  if (name === '' || taken.has(name) || name.includes('+') || /^(0|empty)$/i.test(name))
    faults.unshift('name')
  if (faults.length > 0) return { faults }
  const checked = checkedReference(name, form)
  return checked.ok ? { name, ...checked.value } : { faults: [FIELDS_OF[form.kind].at(-1)!] }
}

function checkedReference(name: string, form: MassForm): Outcome<{ reference: Reference; mass: Mass }> {
  const references = { [name]: referenceOf(form) }
  const parsed = referencesSchema.safeParse({ references })
  const reference = parsed.success ? parsed.data.references[name] : undefined
  if (!reference)
    return {
      ok: false,
      problems: [{ where: name, what: 'its figures cannot be so.', cure: 'Look at them again.' }],
    }
  const mass = massOf(name, reference)
  return mass.ok ? fine({ reference, mass: mass.value }) : mass
}

function referenceOf(form: MassForm): unknown {
  const figure = (field: MassField): number => typedNumber(form[field]) ?? Number.NaN
  const inKg = (grams: number): number => Number((grams / 1000).toPrecision(12))
  switch (form.kind) {
    case 'weighed':
      return { kind: 'weighed', kg: figure('kg'), scaleErrorKg: inKg(figure('limitG')) }
    case 'weight':
      return {
        kind: 'weight',
        kg: figure('kg'),
        ...(form.limitG.trim() !== '' && { toleranceKg: inKg(figure('limitG')) }),
      }
    case 'water':
      return {
        kind: 'water',
        litres: figure('litres'),
        litresLimit: inKg(figure('limitMl')),
        temperatureC: figure('temperatureC'),
      }
    case 'coins':
      return { kind: 'coins', count: figure('count'), eachG: figure('eachG') }
  }
}
