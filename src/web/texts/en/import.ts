const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`

export const importTexts = {
  title: 'Logs to take in',
  dropHere: 'Let go: the logs are looked at first, nothing is kept yet.',
  chooseFiles: 'Choose logs …',
  moreFiles: 'Add logs …',
  chooseLabel: 'Logs, a specimens table, or a data package',
  paste: 'A copied log can be pasted here too.',
  pasted: (n: number) => `pasted-${n}.txt`,

  nextNothing: 'Drop logs anywhere on this page, paste one, or choose them.',
  nextSorting: 'The files are being opened.',
  nextLooking: (done: number, all: number) => `Looking at log ${done + 1} of ${all}.`,
  nextStudy: 'Give the study that these logs belong to a name.',
  nextStudyAction: 'Name it',
  nextTrouble: (n: number) =>
    `${count(n, 'log')} could not be understood: say what is missing, or leave ${n === 1 ? 'it' : 'them'} out.`,
  nextTroubleAction: 'Go to it',
  nextPattern: 'The pattern of the file names is none: mend it, or name the specimens by hand.',
  nextNone: 'None of these logs is new: open the study that has them, or add others.',
  nextKeep: (logs: number, specimens: number) =>
    `Look through what was understood, then take in ${count(logs, 'log')} of ${count(specimens, 'specimen')}.`,
  nextKeepAction: (logs: number) => `Take in ${count(logs, 'log')}`,
  nextKeeping: (done: number, all: number, name: string) => `Taking in ${done + 1} of ${all}: ${name}.`,
  stop: 'Stop',
  nextKept: (logs: number) => `${count(logs, 'log')} taken in and read: look at the curves.`,
  nextCompare: (logs: number) => `${count(logs, 'log')} taken in and read: see how the variants compare.`,
  nextSomeFailed: (failed: number, kept: number) =>
    `${count(failed, 'log')} could not be taken in, ${kept} ${kept === 1 ? 'is' : 'are'} kept: see what stands beside ${failed === 1 ? 'it' : 'them'}.`,
  nextStopped: (kept: number, left: number) =>
    `Stopped: ${count(kept, 'log')} kept, ${left} still to take in.`,
  goOn: 'Go on',
  toRead: 'Read them',
  toCompare: 'Compare',
  clear: 'Put these files away',
  aside:
    'These files stay on the table in this browser, over a reload too, until they are taken in or put away.',
  restored: (n: number) =>
    `${count(n, 'log')} lay here when the page was left, with what was said of ${n === 1 ? 'it' : 'them'}: go on, or put ${n === 1 ? 'it' : 'them'} away.`,
  notAside: (why: string) =>
    `This browser could not set the files aside (${why}): a reload of the page would lose what is said of them here.`,
  did: (logs: number, study: string) => `${count(logs, 'log')} taken into “${study}”.`,
  undoWhy: 'taken in by mistake',

  into: 'Where they go',
  study: 'Study',
  newStudy: 'A new study',
  studyName: 'Name of the new study',
  question: 'Its question',
  questionHint: 'Which of these holds best?',
  rig: 'Rig that they were pulled on',
  noRig: 'not known: the scale counts as not checked',
  pattern: 'How the files are named',
  patternHint:
    'Fields in braces: {variant}, {n} the number of the specimen, {part} a letter for a second log of the same specimen, {day}, {batch}, {operator}, {order}; * stands for anything.',
  fits: (n: number, all: number) => `fits ${n} of ${all}`,
  tableUsed: (name: string, used: number, rows: number) =>
    `${name}: a specimens table; ${used} of its ${count(rows, 'row')} ${used === 1 ? 'is' : 'are'} of logs here.`,
  tableBad: (name: string) => `${name} is a specimens table, but it cannot be used yet:`,

  specimens: 'Specimens',
  specimen: 'Specimen',
  variant: 'Variant',
  noVariant: 'no variant yet',
  from: {
    hand: 'as you said',
    table: 'by the specimens table',
    pattern: 'by the file name',
    name: 'named as its file',
  },
  newOne: 'new',
  hasLogs: (n: number) => `has ${count(n, 'log')} already; these come after`,
  joined: (n: number) => `${n} logs, joined in this order`,
  earlier: 'earlier',
  later: 'later',
  leaveOut: 'Leave out',
  takeAgain: 'Take in again',
  leftOut: 'left out',
  looking: 'being looked at …',
  kept: 'in the store',
  keepingNow: 'being taken in …',

  more: 'What was understood, and corrections',
  correct: 'Correct what was understood',
  sameForAll: (n: number) => `The same for all ${n} logs`,
  back: 'As understood',
  options: {
    rateHz: 'Samples a second',
    time: 'Time',
    force: 'Force',
    unit: 'Unit of force',
    tension: 'A pull counts',
    decimal: 'Decimal mark',
    encoding: 'Encoding',
  },
  asUnderstood: 'as understood',
  fromTimes: 'from the times',
  column: (n: number, name: string) => (name === '' ? `column ${n}` : `${n}: ${name}`),
  positive: 'upwards',
  negative: 'downwards',
  point: 'point',
  comma: 'comma',
  counts: 'raw counts',
  encodings: [
    ['utf-8', 'UTF-8'],
    ['utf-16le', 'UTF-16, little end first'],
    ['utf-16be', 'UTF-16, big end first'],
    ['windows-1252', 'Western Europe'],
    ['windows-1250', 'Central Europe'],
    ['windows-1251', 'Cyrillic'],
    ['shift_jis', 'Japanese, Shift JIS'],
    ['euc-kr', 'Korean'],
    ['gbk', 'Chinese, simplified'],
    ['big5', 'Chinese, traditional'],
  ] as readonly (readonly [string, string])[],
  facts: {
    columns: 'Columns',
    unit: 'Unit of force',
    times: 'Times',
    samples: 'Samples',
    peak: 'Peak, without a calibration',
    lines: 'First lines',
    assumed: 'Taken for granted',
    notes: 'Notes in the log',
  },
  timeFrom: { column: 'a column of times', clock: 'clock stamps', rate: 'the rate alone' },
  seconds: (from: string, to: string) => `${from} to ${to} s`,
  countsPeak: 'raw counts: a force once the rig has a calibration',
  moreNotes: (n: number) => `and ${n} more`,
  curveLabel: (name: string) => `Force over time in ${name}`,

  knownOn: (specimen: string, study: string) => `is in the store already: ${specimen}, in “${study}”`,
  knownFree: 'is in the store already, on no specimen: it is put on this one',
  knownAside: (why: string) =>
    `is in the store already, set aside (${why}): it is taken back and put on this one`,
  openKnown: 'Open it there',
  twin: (name: string) => `is the same log as ${name}`,

  strange: {
    dataPackage: {
      what: 'it is only the description of a data package, without its files.',
      cure: 'Drop the whole package as one zip.',
    },
    backup: {
      what: 'it is a backup of a whole store, not a log.',
      cure: 'Stop Tenterhook and put it back with: tenterhook restore.',
    },
    archive: {
      what: 'it is packed with gzip.',
      cure: 'Unpack it first; a whole store written by export --all is taken in with: tenterhook import --all.',
    },
    database: {
      what: 'it is a database, not a log.',
      cure: 'If it is the store of another Tenterhook, start with it: tenterhook start --store FOLDER.',
    },
    picture: {
      what: 'it is a picture or a sound, not a log.',
      cure: 'Photos of a failure are added to their specimen, in Read.',
    },
    unreadable: {
      what: 'it cannot be read: it is a folder, or it was moved or locked meanwhile.',
      cure: 'Choose the files in it, and drop them again.',
    },
    document: (kind: string) => ({
      what: `it is a ${kind} that Tenterhook wrote, not a log.`,
      cure: 'Drop the log that it was made from.',
    }),
  },
  packageChanged: 'The package was changed or is not whole: fetch it again.',
  packageOf: (study: string) =>
    `A data package of the study “${study}”; its files are as they were published.`,
  packageRig: (rig: string) =>
    `Its rig “${rig}” is not taken along: enter it in Rig and choose it here, else the scale counts as not checked.`,
  packageLeftOut: (specimen: string, why: string) =>
    `${specimen} does not count there (${why}): leave it out, or say so in Read.`,
}
