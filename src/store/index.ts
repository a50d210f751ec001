/**
 * The store: studies, specimens, recordings, readings, rigs and calibrations, kept. Public names in reading
 * order.
 */

export { restore } from './care/restore.ts' // a backup in the place of the store
export { StoreFault } from './fault.ts' // the store cannot be reached or trusted
export { openStore } from './openStore.ts' // place → Store
export { type StorePlace, storePlace } from './place.ts' // --store, else environment, else custom
export type * from './store.ts' // what a Store can do
export type * from './types.ts' // what it keeps
