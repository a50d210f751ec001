import { counted } from '../../../core/counted.ts'

interface EventWords {
  readonly before: string
  readonly after: string
  readonly drop: string
  readonly unit: string
  readonly gone: string | null
  readonly of: number | null
}

const elements = ({ gone, of }: EventWords): string =>
  gone === null
    ? ''
    : of === null
      ? ` About ${gone} of the elements went.`
      : ` ${gone} of ${of} elements went.`

const fell = ({ before, after, drop, unit }: EventWords): string =>
  `from ${before} to ${after} ${unit}, by ${drop} ${unit}`

export const readTexts = {
  next: {
    noSpecimens: 'This study has no specimen yet: pull one, or drop its log on the shelf.',
    toPull: 'Go to Pull',
    notRecorded: (name: string) => `“${name}” has no recording yet: pull it, or drop its log on the shelf.`,
    reading: (name: string) => `Reading “${name}” …`,
    failed: (name: string) => `“${name}” cannot be read: see why below.`,
    conflict: 'Say which reading is to count: the one from the other window, or yours.',
    writing: 'Say what is to be changed and why, then keep it.',
    trying: (before: string, after: string) =>
      `The peak would go from ${before} to ${after}: keep it, or leave it.`,
    same: (peak: string) => `The peak stays ${peak}: keep it, or leave it.`,
    zeroUnknown: 'Drag along the selvedge over a stretch in which the specimen surely carried nothing.',
    zeroByNumbers: 'Or type its times',
    notAssigned: (name: string) => `Say of which variant “${name}” is: without one it counts in no figure.`,
    toVariant: 'Choose its variant',
    sayMode: (name: string) => `Say how “${name}” failed.`,
    toMode: 'Choose the way it failed',
    nextSpecimen: (name: string, next: string) => `“${name}” is read; go on to “${next}”.`,
    goOn: 'Next specimen',
    leftOut: (name: string) => `“${name}” is left out of the figures: take it in again, or go on.`,
    takeIn: 'Take it in again',
  },
  specimen: 'Specimen',
  previous: 'Previous specimen (key ,)',
  following: 'Next specimen (key .)',
  place: (at: number, all: number) => `${at} of ${all}`,
  noRecording: 'no recording',
  isLeftOut: 'left out',
  curveOf: (name: string) => `Force curve of ${name}`,
  time: 'time, s',
  along: (against: 'extension' | 'travel' | 'loading-time', unit: string) =>
    `${{ extension: 'extension', travel: 'travel of the grips', 'loading-time': 'time under load' }[against]}, ${unit}`,
  kind: {
    heading: 'Beside the others of its variant',
    legend: (name: string, others: number) =>
      others === 0
        ? `There is no other of its variant yet: “${name}” stands alone.`
        : `Thick: “${name}”. Thin: ${counted(others, 'other')} of its variant, put together at the start of loading.`,
  },
  asOne: 'Joined into one',
  practice: 'Practice, from the pretend rig: it says nothing of any real specimen.',
  lines: { raw: 'as recorded', corrected: 'as read', joined: 'as read, joined' },
  noLoadRead: (level: string) => `no load read ${level}: taken as zero`,
  joinedHere: (pull: number) => `pull ${pull} joined here`,
  eventAt: (label: string, atS: number) => `${label}, at ${atS.toFixed(2)} s`,
  legend: {
    time: 'Thin: as recorded. Thick: less the zero.',
    joined: 'The pulls, less the zero, as one curve.',
  },
  moreEvents: (n: number) => `Show all ${n}`,
  legendBefore: ' Dashed: what is kept now.',
  busy: 'Reading …',

  eventsHeading: 'What happened',
  eventsCount: (events: number, pulls: number) =>
    `${counted(events, 'event')}, ${counted(pulls, 'pull')}, in words`,
  understoodHeading: 'How the log was understood',
  noEvents: 'Nothing let go, slipped or was handled while this was recorded.',
  at: (s: number) => `${s.toFixed(2)} s`,
  lookThere: (s: number) => `Look closer at ${s.toFixed(2)} s`,
  events: {
    'partial-break': (e: EventWords) => `A part let go: the force fell ${fell(e)}.${elements(e)}`,
    break: (e: EventWords) => `It broke: the force fell ${fell(e)}.${elements(e)}`,
    slip: (e: EventWords) =>
      `It slipped in its grips: the force fell ${fell(e)}, and nothing of the specimen broke.`,
    unload: (e: EventWords) => `It was let down by hand from ${e.before} ${e.unit}.`,
    regrip: () => 'It was gripped again.',
    rezero: () => 'The zero of the indicator was set again.',
  },
  doubtful: 'This is doubtful: look at it.',
  asSaid: (asSaid: string) => `That is ${asSaid}.`,
  wasElse: 'It was something else',
  dropPullAt: 'Not a pull',
  pullSentence: (n: number, from: number, to: number, ends: string) =>
    `Pull ${n}, ${from.toFixed(2)} to ${to.toFixed(2)} s: ${ends}.`,
  pullEnds: {
    break: 'it ends in a break',
    unload: 'it was let down',
    softening: 'the force faded away',
    'end-of-record': 'the record ends in it',
  },
  missedEvent: 'Name a drop that was missed',

  resultHeading: 'Result',
  figures: {
    peakForce: 'Peak force',
    pulls: 'Pulls',
    partialBreaks: 'Partial breaks',
    slips: 'Slips',
    elements: 'Elements seen to let go',
    laterPeaks: 'Later peaks',
    work: 'Work up to the break',
    stiffness: 'Stiffness',
    timeToPeak: 'Time to the peak',
    loadingRate: 'Loading rate',
  },
  laterPeak: (pull: number) => `Later peak, pull ${pull}`,
  none: 'none',
  statusWords: {
    measured: 'measured',
    'at-least': 'at least this: the true peak was not seen',
    'not-recorded': 'not recorded: no figure is taken for it',
    'not-reached': 'not reached: the specimen held',
    'no-pull': 'no pull in this record',
  },
  zeroWords: {
    seen: 'the empty cell was seen',
    'set-under-load': 'the empty cell was seen; the indicator had been zeroed under load',
    'as-indicated': 'the empty cell was not seen: the zero is the indicator’s own',
  },
  zeroChoice: {
    heading: 'Which was the empty cell?',
    stood: (level: string, from: string, to: string) => `It stood at ${level} from ${from} to ${to} s:`,
    empty: 'The cell was empty here',
    hold: 'This was a hold',
    whyEmpty: 'the cell was empty here',
    whyHold: 'this was a hold',
    settled: (was: string, is: string) =>
      was === is ? `Kept: the peak force stays ${is}.` : `Kept: the peak force is now ${is}; it was ${was}.`,
  },
  warningsHeading: 'What to know about this reading',
  inNewton: (words: string) => `= ${words}`,
  unevenness: (share: string) =>
    `The rate strayed by ${share} % about its mean (half of it lay within that).`,

  ledgerHalfWidths: 'half-widths: ',
  ledgerTotal: 'peak force',
  showLedger: (figure: string) => `${figure}: show what made it`,
  samplesHeading: (n: number) => `Sample ${n} and its neighbours, as recorded`,
  sampleColumns: {
    n: 'sample',
    time: 'time, s',
    raw: (unit: string) => `recorded, ${unit}`,
    read: (unit: string) => `as read, ${unit}`,
  },
  toSamples: 'Show the samples',
  showOnCurve: 'Show it on the curve',
  understood: (text: string) => `How the log was understood: ${text}`,

  adjust: {
    heading: 'Adjustments',
    soMany: (n: number) => (n === 0 ? 'none' : `${n}`),
    empty: 'None: this is as the record alone was read.',
    intro: 'Mark a stretch by a drag along the selvedge. Or choose what to adjust and type its times.',
    marked: (from: string, to: string) => `Marked: ${from} to ${to} s.`,
    clear: 'Clear the mark',
    kinds: {
      'zero-here': 'The specimen carried nothing here',
      hold: 'A load was held here',
      cut: 'Leave these readings out',
      shift: 'Move this part to join it',
      'drop-pull': 'Leave a pull out',
      relabel: 'Say what a drop was',
      elements: 'Number of elements',
      sensitivity: 'Sensitivity to drops',
    },
    help: {
      'zero-here': 'The zero is taken from this stretch.',
      hold: 'However still it stands, no zero is taken from this stretch.',
      cut: 'The record itself is not changed; the reading does without these.',
      shift:
        'Moves it along the joined curve only: no figure changes. Its height stays, for that follows from the zero.',
      'drop-pull': 'Say a time within the pull that was no pull of the specimen.',
      relabel: 'Say the time of the drop.',
      elements: 'How many equal parts (dots, stitches) it had. Empty: not known.',
      sensitivity: '1 is usual; 2 finds drops half as large, 0.5 only those twice as large.',
    },
    moveByHand: 'Move it on the joined curve',
    movePart: 'The part that is moved: drag it sideways, or use the arrow keys',
    movedBy: (by: number, unit: string) =>
      by === 0 ? 'not moved' : `${by > 0 ? 'farther' : 'nearer'} by ${Math.abs(by)} ${unit}`,
    from: 'From, s',
    to: 'To, s',
    at: 'At, s',
    byS: 'Later by, s',
    byMm: 'Farther by, mm',
    as: 'It was',
    labels: {
      'partial-break': 'a part that let go',
      break: 'the break',
      slip: 'a slip in the grips',
      none: 'nothing',
    },
    count: 'Elements',
    factor: 'Sensitivity',
    who: 'Who',
    why: 'Why',
    usualReasons: 'Usual reasons',
    reasons: {
      'zero-here': ['the grips hung free', 'the specimen was slack', 'after the break'],
      hold: ['the pull was stopped under load', 'the specimen was held taut', 'it yielded'],
      cut: ['somebody touched the rig', 'a loose lead', 'it belongs to another specimen'],
      shift: ['the grips were opened in between', 'the travel was set to nought again'],
      'drop-pull': ['a hand on the grip', 'a trial pull', 'settling in the grips'],
      relabel: ['seen by eye', 'seen on the bench', 'heard'],
      elements: ['counted before the pull', 'counted after the pull'],
      sensitivity: ['small drops were missed', 'noise was taken for drops'],
    },
    keep: 'Keep',
    leave: 'Leave',
    before: 'kept now',
    after: 'with this',
    strike: (text: string) => `Strike out: ${text}`,
    strikeWord: 'Strike out',
    back: (text: string) => `Put back: ${text}`,
    backWord: 'Put back',
    change: (text: string) => `Change: ${text}`,
    changeWord: 'Change',
    signed: (why: string, who: string, day: string) => `${why} — ${who}, ${day}`,
    kept: (text: string) => `Kept: ${text}.`,
    struck: (text: string) => `Struck out: ${text}.`,
    putBack: (text: string) => `Put back: ${text}.`,
    takenBack: 'Taken back.',
    faults: {
      missing: 'This is missing.',
      'not-a-number': 'This is not a number.',
      'not-later': 'The end must be later than the beginning.',
      'out-of-range': { count: 'A whole number from 1 to 100000.', factor: 'A number from 0.1 to 10.' },
    },
  },

  facts: {
    heading: 'The specimen',
    mode: 'How it failed',
    modeNone: 'not said',
    name: 'Name',
    variant: 'Variant',
    notAssigned: 'not assigned',
    notAssignedWhy: 'Without a variant it counts in no figure.',
    rig: 'Recorded on the rig',
    noRig: 'no rig told',
    rigSaid: (count: number, name: string) => `${count} ${count === 1 ? 'recording' : 'recordings'}: ${name}`,
    notRead: 'not read',
    beforeAfter: (name: string, before: string, after: string) =>
      before === after ? `${name}: ${after}, as before` : `${name}: ${before} → ${after}`,
    changes: (count: number) => `What was changed (${count})`,
    changedBy: (what: string, who: string, at: string) => `${what}${who === '' ? '' : `, ${who}`}, ${at}`,
    takeBack: 'Take back',
    doAgain: 'Do again',
    newMode: 'Another way, new in this study',
    addMode: 'Add',
    operator: 'Pulled by',
    batch: 'Batch',
    temperatureC: 'Temperature, °C',
    humidityPct: 'Humidity, %',
    widthMm: 'Width, mm',
    thicknessMm: 'Thickness, mm',
    lengthMm: 'Free length, mm',
    elements: 'Equal elements',
    remark: 'Remark',
    changed: (what: string) => `${what} changed.`,
    notANumber: 'This is not a number that can stand here.',
    leaveOut: 'Leave it out of the figures',
    leaveOutWhy: 'Why it is left out',
    leaveOutNow: 'Leave it out',
    leftOutBecause: (why: string) => `Left out of the figures: ${why}`,
    takeIn: 'Take it in again',
    didLeaveOut: 'Left out of the figures.',
    didTakeIn: 'Taken into the figures again.',
    whyMissing: 'Say why, so that the report can.',
  },
  notes: {
    heading: 'Notes',
    none: 'No notes yet.',
    write: 'A new note',
    add: 'Add the note',
    remove: 'Remove',
    removeNote: (text: string) => `Remove the note “${text}”`,
    removed: 'Note removed.',
    signed: (who: string, day: string) => (who === '' ? day : `${who}, ${day}`),
  },
  photos: {
    heading: 'The failure in pictures',
    none: 'No picture yet. A picture of the broken ends settles many questions later.',
    add: 'Add a picture',
    alt: (caption: string, name: string) => (caption === '' ? `Picture of the failure of ${name}` : caption),
    remove: 'Remove',
    removePhoto: (name: string) => `Remove the picture ${name}`,
    removed: 'Picture removed.',
    adding: 'Adding the picture …',
  },
}
