import { type Mass, massOf } from '../../../core/calibration/references.ts'
import { type Reference, referencesSchema } from '../../../core/calibration/referencesDocument.ts'

/** The things of known mass of this house, by their names: a references document, kept with the settings. */
export type HouseMasses = Readonly<Record<string, Reference>>

/** Those that were kept, as far as they keep to the schema. */
export function houseMassesFrom(kept: unknown): HouseMasses {
  const parsed = referencesSchema.safeParse(kept)
  return parsed.success ? parsed.data.references : {}
}

export const referencesDocument = (references: HouseMasses) => ({
  document: 'tenterhook.references' as const,
  version: 1 as const,
  references,
})

/** As masses between limits, by name; one that makes no mass is passed over (the form lets none in). */
export function massMap(references: HouseMasses): ReadonlyMap<string, Mass> {
  const masses = new Map<string, Mass>()
  for (const [name, reference] of Object.entries(references)) {
    const mass = massOf(name, reference)
    if (mass.ok) masses.set(name, mass.value)
  }
  return masses
}

/** What is known of one, `1.000 kg`. */
export const kgText = (kg: number): string => `${kg.toFixed(3)} kg`
