import type { OpenStudy } from '../data/backend.ts'

/** What every place of a study gets. */
export interface PlaceProps {
  readonly open: OpenStudy
  /** From the address: the specimen that is looked at. */
  readonly specimenId: string | null
}
