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
  changedElsewhere: (what: string) =>
    `${what} was changed in another window after you opened it here. Nothing of yours was written.`,
  showTheirs: 'Show what it is now',
  keepMine: 'Write mine over it',
  notFound: 'There is nothing at this address.',
  toShelf: 'Go to the shelf',
  screenFailed: (name: string) =>
    `“${name}” met a fault of its own and is switched off. All else goes on, and nothing that was kept is lost.`,
  tryAgain: 'Try again',
  careHeading: 'Care',
}
