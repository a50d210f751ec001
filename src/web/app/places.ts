/** The six places of a study, in the order of the work. */
export const PLACES = ['plan', 'rig', 'pull', 'read', 'compare', 'tell'] as const
export type Place = (typeof PLACES)[number]

/** The study that an address lies in; `null` outside of any. */
export const studyIn = (address: string): string | null => /^\/study\/([^/]+)/.exec(address)?.[1] ?? null

/** Addresses inside the app, behind the `#`, so that the page that opens from disk has them too. */
export const addressOf = {
  shelf: '/',
  settings: '/settings',
  import: '/import',
  place: (studyId: string, place: Place): string => `/study/${studyId}/${place}`,
  specimen: (studyId: string, specimenId: string): string => `/study/${studyId}/read/${specimenId}`,
}
