import type { Recordings, Rigs, Specimens, Studies, Variants } from '../../store/store.ts'

/** What the desk asks of the place where studies are kept: the server's store, or the storage of a page's browser. */
export interface DeskStore {
  readonly studies: Pick<Studies, 'get'>
  readonly variants: Pick<Variants, 'list'>
  readonly specimens: Pick<Specimens, 'get' | 'update' | 'named'>
  readonly recordings: Pick<Recordings, 'save' | 'setAside'>
  readonly rigs: Pick<Rigs, 'get' | 'list' | 'create'>
}
