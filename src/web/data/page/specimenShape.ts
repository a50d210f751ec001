import { BLANK_SPECIMEN } from '../../../core/study.ts'
import type { Specimen } from '../../../server/apiTypes.ts'
import { type KeptSpecimen, newId } from './db.ts'
import { given } from './rules.ts'

/** A specimen that is new in a study, made at a time: what is not given is not known. */
export const blankSpecimen = (studyId: string, name: string, fields: object, at: string): Specimen => ({
  ...BLANK_SPECIMEN,
  ...given<Partial<Specimen>>(fields),
  name,
  id: newId(),
  studyId,
  createdAt: at,
  updatedAt: at,
})

/** One that was kept before these could be told. */
export const wholeSpecimen = ({ removedAt: _, ...specimen }: KeptSpecimen): Specimen => ({
  ...specimen,
  pulledOn: specimen.pulledOn ?? null,
  pullOrder: specimen.pullOrder ?? null,
  typedPeak: specimen.typedPeak ?? null,
})

export const inTime = (a: Specimen, b: Specimen): number =>
  a.createdAt < b.createdAt || (a.createdAt === b.createdAt && a.name < b.name) ? -1 : 1
