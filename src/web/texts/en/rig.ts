import { threeDigits } from '../../../core/units/showForce.ts'

const loads = (hang: readonly string[]): string => hang.join(' + ')
const steadyWords = ' and wait until the reading stands still.'

export const rigTexts = {
  heading: 'The rig',
  nextDescribe: 'Give your rig a name; what else is known of it can follow.',
  describe: 'Name it',
  nextMasses: (n: number) =>
    n === 1
      ? 'Name one thing of known mass to hang on the rig.'
      : 'Name two things of known mass to hang on the rig: a full bottle that you weighed will do.',
  nameMass: 'Name one',
  nextCalibrate: 'The scale is not checked yet: calibrate the rig with the masses that you named.',
  goCalibrate: 'Calibrate',
  nextOff: 'The last check put the rig off: calibrate it anew before you rely on it.',
  nextCheck: (mass: string) => `Hang the check mass of ${mass}: the rig has not been checked today.`,
  beginCheck: 'Check it',
  nextPull: 'The rig was checked today and reads as it should.',
  goPull: 'Go to Pull',

  hang: (hang: readonly string[]) =>
    hang.length === 0 ? `Leave the hook empty${steadyWords}` : `Hang “${loads(hang)}”${steadyWords}`,
  hangAndType: (hang: readonly string[]) =>
    hang.length === 0
      ? 'Leave the hook empty and type what the rig reads.'
      : `Hang “${loads(hang)}” and type what the rig reads.`,
  waiting: 'Waiting for it to stand still',
  take: 'Take the reading',
  takeUnmoved: 'It has not moved: take it all the same',
  nextKeep: 'All loads are read: keep the calibration, or hang them once more.',
  nextMorePoints: 'These points make no line yet: take the last one back and read it again.',
  keep: 'Keep it',
  keepNow: 'Keep it with these points',
  checkEmpty: (hasLine: boolean) =>
    hasLine ? `Leave the hook empty${steadyWords}` : 'Leave the hook empty and type what the rig reads.',
  checkLoaded: (mass: string, hasLine: boolean) =>
    hasLine ? `Hang ${mass}${steadyWords}` : `Hang ${mass} and type what the rig reads.`,

  rigName: 'Name of the rig',
  newRig: 'What do you call it?',
  newRigHint: 'nut rig on the bench',
  makeRig: 'Make it',
  anotherRig: 'Another rig',
  otherRigs: 'Another rig',
  onBench: 'Which stands on the bench',
  didRename: (name: string) => `The rig is now called “${name}”.`,

  links: {
    drive: 'Drive and grip',
    specimen: 'Specimen',
    frame: 'Grip and frame',
    cell: 'Load cell',
    converter: 'Converter',
    line: 'Line',
    place: 'Place',
  },
  asks: {
    drive: 'How far does a turn go?',
    specimen: 'What is pulled stands in Plan',
    frame: 'How much does it give?',
    cell: 'What can it bear?',
    converter: 'How often does it read?',
    line: 'Where is it?',
    place: 'At which latitude?',
  },
  linkWhat: {
    drive: 'What one turn of the nut moves, or how fast the motor runs. And how far it goes.',
    specimen: 'Peak and extension expected are asked for in Plan, and held against this rig there.',
    frame: 'What grips, frame and cell give by themselves: a pull on a stiff bar, further down, tells it.',
    cell: 'The greatest force that the cell may bear stands on it, often in kg: 1 kg is 9.81 N.',
    converter: 'How often it reads, and over how many readings it averages.',
    line: 'The port that the converter sends its numbers to.',
    place:
      'Gravity turns masses into forces: it differs by half a per cent between the equator and the poles.',
  },
  figures: {
    mmPerTurn: 'Travel for one turn, in mm',
    mmPerSecond: 'Speed of a motor, in mm/s',
    strokeMm: 'Stroke, in mm',
    capacityN: 'Capacity, in N',
    ratedOutputMvPerV: 'Rated output, in mV/V',
    rateHz: 'Readings a second',
    averagedReadings: 'Readings averaged into one',
    excitationV: 'Excitation, in V',
    latitudeDeg: 'Latitude in degrees, south negative',
    heightM: 'Height above the sea, in m',
  },
  figureFaults: {
    'above-0': 'This is not a figure above 0, such as 12 or 1.5.',
    whole: 'This is not a whole number from 1.',
    latitude: 'A latitude is a number from −90 to 90.',
    height: 'A height is a number from −500 to 9000.',
  },
  didFigure: (name: string) => `“${name}” is changed.`,

  serverAway: 'The server does not answer: this goes on by itself once it runs again.',
  closeLine: 'Close the line',
  noLineHere:
    'This page holds no line to a rig: readings are typed. Start Tenterhook on this computer to listen to one.',
  withLine: 'Listen to the line instead of typing',
  lineIsScaled: 'To be calibrated, the line is read as the converter sends it.',
  openRaw: 'Open it so',
  lineIsUnscaled: 'To be checked, the line is read by the calibration of this rig.',
  openWithRig: 'Open it so',
  noReadings: 'nothing has come yet',
  steady: 'stands still',
  moving: 'moves',
  rate: (hz: number) => `${threeDigits(hz)} readings a second`,
  garbled: (n: number) => `${n} ${n === 1 ? 'line' : 'lines'} without a reading`,

  masses: 'Things of known mass',
  massesWhat:
    'What you can hang on the rig, and how well you know it. It serves for every rig and every study.',
  newMass: 'A new thing of known mass',
  massKind: 'What it is',
  massKinds: {
    weighed: 'weighed on a scale',
    weight: 'a bought weight, or of known limits',
    water: 'water by volume',
    coins: 'new coins of one kind',
  },
  massFields: {
    name: 'Its name',
    kg: 'Mass in kg',
    litres: 'Litres',
    limitMl: 'How well the mark can be filled to, ± ml',
    temperatureC: 'Temperature, °C',
    count: 'How many',
    eachG: 'Grams of one, as published',
  },
  massLimit: {
    weighed: 'Error of that scale, ± g (one step, if nothing is stated)',
    weight: 'Limits ± g, if known',
    water: '',
    coins: '',
  },
  massFaults: {
    name: 'A name is needed that no other has, without a +.',
    kg: 'Kilograms above 0, such as 1.000.',
    limitG: 'Grams above 0, such as 1.',
    litres: 'Litres above 0, such as 1.5.',
    limitMl: 'Millilitres above 0, such as 5.',
    temperatureC: 'Degrees from 0 to 40.',
    count: 'A whole number from 1.',
    eachG: 'Grams above 0, such as 7.5.',
  },
  addMass: 'Add it',
  remove: 'Remove',
  didRemoveMass: (name: string) => `“${name}” is removed.`,
  guide: 'What can serve at home, and how good it is',
  massName: (kg: string, name: string) => `${kg} (${name})`,

  calibrate: 'Calibration',
  calibrationName: (rig: string) => `calibration of ${rig}`,
  inForce: (name: string, verdict: string) => `In force: ${name}. ${verdict}.`,
  quickInForce: (name: string, pct: number) => `In force: ${name}, good to ±${threeDigits(pct)} %.`,
  quick: {
    heading: 'A quick scale by one mass',
    weaker:
      'One mass cannot tell whether the scale is straight, repeats, or reads alike up and down. So every force by it is doubted by 1 % more, and no class is reached. Calibrate with two masses when you can.',
    noMass: 'Name one thing of known mass further down first.',
    mass: 'What hangs',
    readings: { empty: 'Reading of the empty hook', loaded: 'Reading with the mass' },
    fromLine: 'Take it from the line',
    keep: 'Keep this scale',
    did: 'The quick scale is in force.',
  },
  hangThese: 'Hang these, alone and together',
  twoMasses: 'At least two are needed to see whether the line is straight.',
  stepsAhead: (n: number) => `${n} loads, up and down.`,
  readingUnit: 'The rig reads in',
  startCalibrating: 'Begin',
  typedReading: (unit: string) => `Reading, in ${unit}`,
  takeTyped: 'Take it',
  notAReading: 'This is not a number, such as 69630 or 1.02.',
  skip: 'Skip this load',
  takeBack: 'Read the last one again',
  onceMore: 'Hang them once more',
  stopCalibrating: 'Give up this calibration',
  columns: {
    load: 'load',
    direction: 'way',
    applied: 'force, N',
    reading: (unit: string) => `reading, ${unit}`,
    residual: 'left after the fit, N',
    counts: 'counts',
  },
  loadName: (hang: readonly string[]) => (hang.length === 0 ? 'empty hook' : loads(hang)),
  directions: { up: 'up', down: 'down' },
  suspect: '(far off the others)',
  countsFor: (n: number) => `Point ${n} counts`,
  asRead: (why: string) => `As the rig reads now, without this calibration: ${why}`,
  errors: {
    indication: 'error of indication',
    repeatability: 'the same load again (repeatability)',
    reversibility: 'up against down',
    zero: 'zero after unloading',
    resolution: 'least step shown (resolution)',
  },
  notMeasured: 'not measured',
  /** Said otherwise here, with the place in the app where it is settled. */
  warnings: {
    'gravity-assumed':
      'Masses were turned into forces with standard gravity: the place may differ by up to 0.27 %, which the doubt covers. Say the latitude under “Place”, and it is smaller.',
    'loads-without-doubt':
      'Some of these things have no limits, so the doubt covers the readings but not the masses. Say how well each is known, under “Things of known mass”.',
  } as Readonly<Record<string, string>>,
  doubtAt: 'doubt of one reading (95 %)',
  scatter: 'scatter about the line',
  didCalibrate: 'The calibration is in force.',

  check: 'Daily check',
  checkWhat: 'One known mass before the day’s work shows whether the rig still reads as it was calibrated.',
  checkMass: 'Check mass',
  noMass: 'none named yet',
  stopCheck: 'Stop the check',
  rigIsOff: 'The rig is off: do not rely on it until this is settled.',
  rigIsRight: 'The rig reads as it should.',
  checkFigures: ({
    known,
    indicated,
    error,
    limit,
  }: {
    known: string
    indicated: string
    error: string
    limit: string | null
  }) =>
    `Known ${known} N, read ${indicated} N: ${error} %${limit === null ? '' : `, of ±${limit} % that may be`}.`,
  chartLabel: (n: number, pct: string) => `${n} ${n === 1 ? 'check' : 'checks'}; the last was ${pct} % off`,
  chartLimits:
    'Error of each check with this mass under this calibration, and the limits that the first set.',
  chartNoLimits: 'Error of each check with this mass under this calibration; limits come with the seventh.',

  stiffness: 'What the rig gives by itself',
  stiffnessWhat:
    'Pull a stiff bar slowly to half of the capacity and drop the log here: what still moves is grips, frame, drive and cell.',
  stiffnessKnown: (value: string) => `Known: ${value}.`,
  barLog: 'Log of the pull on a bar',
  stiffnessFound: ({
    value,
    samples,
    from,
    to,
    lower,
    upper,
  }: {
    value: string
    samples: number
    from: string
    to: string
    lower: string
    upper: string
  }) =>
    `${value}, from ${samples} readings between ${from} and ${to} N; lower half ${lower}, upper half ${upper} N/mm.`,
  keepStiffness: 'Keep it',
  didStiffness: 'The stiffness is kept.',
}
