import type { NewVariant, Variant } from '../../../server/apiTypes.ts'
import type { Backend } from '../backend.ts'
import { found, newId, writing } from './db.ts'
import { changedSince, given, nameFrom, nextPlace, putAt, refuseTaken } from './rules.ts'

export const pageVariants: Backend['variants'] = {
  create: (studyId, fields: NewVariant) =>
    writing(['studies', 'variants'], async change => {
      found(await change.objectStore('studies').get(studyId), 'study', studyId)
      const variants = change.objectStore('variants')
      const others = await variants.index('studyId').getAll(studyId)
      const name = nameFrom('variant', fields.name)
      refuseTaken('variant', name, others)
      const variant: Variant = {
        control: false,
        elements: null,
        note: '',
        ...given<Partial<Variant>>(fields),
        name,
        id: newId(),
        studyId,
        place: nextPlace(others),
      }
      await variants.add(variant)
      return variant
    }),
  change: (id, { place, basedOn = {}, ...patch }) =>
    writing(['variants'], async change => {
      const variants = change.objectStore('variants')
      const variant = found(await variants.get(id), 'variant', id)
      const seen = given<Partial<Variant>>(basedOn)
      if ((Object.keys(seen) as (keyof Variant)[]).some(field => seen[field] !== variant[field]))
        throw changedSince(`variant “${variant.name}”`)
      const others = await variants.index('studyId').getAll(variant.studyId)
      const name = patch.name === undefined ? variant.name : nameFrom('variant', patch.name)
      refuseTaken('variant', name, others, id)
      const changed = { ...variant, ...given<Partial<Variant>>(patch), name }
      if (place === undefined) {
        await variants.put(changed)
        return changed
      }
      const { placed, moved } = putAt(others, changed, place)
      for (const one of [placed, ...moved]) await variants.put(one)
      return placed
    }),
  remove: id =>
    writing(['variants', 'specimens'], async change => {
      const variants = change.objectStore('variants')
      const { studyId } = found(await variants.get(id), 'variant', id)
      const specimens = change.objectStore('specimens')
      for (const specimen of await specimens.index('studyId').getAll(studyId))
        if (specimen.variantId === id) await specimens.put({ ...specimen, variantId: null })
      await variants.delete(id)
    }),
}
