import type { Specimen } from '../../../server/apiTypes.ts'
import type { KeptSpecimen } from './db.ts'

/** One that was kept before these could be told. */
export const wholeSpecimen = ({ removedAt: _, ...specimen }: KeptSpecimen): Specimen => ({
  ...specimen,
  pulledOn: specimen.pulledOn ?? null,
  pullOrder: specimen.pullOrder ?? null,
  typedPeak: specimen.typedPeak ?? null,
})

export const inTime = (a: Specimen, b: Specimen): number =>
  a.createdAt < b.createdAt || (a.createdAt === b.createdAt && a.name < b.name) ? -1 : 1
