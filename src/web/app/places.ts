/** The six places of a study, in the order of the work. */
export const PLACES = ['plan', 'rig', 'pull', 'read', 'compare', 'tell'] as const
export type Place = (typeof PLACES)[number]

/** The place that an address lies in: that of a study, whichever specimen is open there, or a page of the app. */
export const placeIn = (address: string): string => /^\/study\/[^/]+\/[^/]+/.exec(address)?.[0] ?? address

/** Addresses inside the app, behind the `#`, so that the page that opens from disk has them too. */
export const addressOf = {
  shelf: '/',
  settings: '/settings',
  import: '/import',
  place: (studyId: string, place: Place): string => `/study/${studyId}/${place}`,
  specimen: (studyId: string, specimenId: string): string => `/study/${studyId}/read/${specimenId}`,
}
