import type { StudyStep } from '../../../core/answer/studyNext.ts'
import type { Place } from '../../app/places.ts'

export const appTexts = {
  name: 'Tenterhook',
  shelf: 'Shelf',
  settings: 'Settings',
  places: {
    plan: 'Plan',
    rig: 'Rig',
    pull: 'Pull',
    read: 'Read',
    compare: 'Compare',
    tell: 'Tell',
  },
  /** Where each next step of a study is done. */
  steps: {
    question: 'plan',
    variants: 'plan',
    assign: 'plan',
    'name-rig': 'plan',
    plan: 'plan',
    'write-in': 'plan',
    'add-variant': 'plan',
    'pull-more': 'plan',
    'less-scatter': 'plan',
    rig: 'rig',
    'reach-higher': 'rig',
    'finer-display': 'rig',
    'check-scale': 'rig',
    pull: 'pull',
    'pull-first': 'pull',
    'tie-blocks': 'pull',
    compare: 'compare',
    enough: 'tell',
    tell: 'tell',
  } satisfies Record<StudyStep['kind'], Place>,
  goTo: (place: string) => `Go to ${place}`,
  placesLabel: 'Places of the study',
  done: 'done',
  missing: 'something is missing here',
  nextLabel: 'What to do now',
  undo: 'Undo',
  close: 'Close',
  undone: 'Taken back.',
  opening: 'Opening …',
  serverGone:
    'The server does not answer. What you see is the last that came; this page goes on by itself once Tenterhook runs again.',
  serverBack: 'The server is back.',
  showTheirs: 'Show what it is now',
  keepMine: 'Write mine over it',
  draftBehind: (now: string) =>
    now === ''
      ? 'Meanwhile this was emptied elsewhere.'
      : `Meanwhile this was changed elsewhere, to “${now}”.`,
  draftRestored: 'What you wrote here was not kept before the page was left.',
  needed: 'needed',
  draftKeep: 'Keep it',
  draftForget: 'Forget it',
  engineGone: {
    where: 'the engine',
    what: 'this browser does not start it, so nothing can be read.',
    cure: 'Reload the page; if that does not help, open it in a newer browser.',
  },
  notFound: 'There is nothing at this address.',
  toShelf: 'Go to the shelf',
  screenFailed: (name: string) =>
    `“${name}” met a fault of its own and is switched off. All else goes on, and nothing that was kept is lost.`,
  tryAgain: 'Try again',
  careHeading: 'Care',
  notAFigure: 'This is not a figure above 0, such as 12 or 1.5.',
}
