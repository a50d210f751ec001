import type { Quantity } from '../../../core/statistics/compare/quantity.ts'
import type { PlanGoal } from '../../plan/asked.ts'

const s = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`

export const planTexts = {
  writeQuestion: 'Write it',
  nameVariant: 'Name one',
  keep: (n: number) => `Keep ${n} of each`,
  planMore: (n: number) => `Plan ${n} more of each`,
  keptIs: (n: number) => `The plan that is kept says ${n} of each.`,
  writeIn: 'Write in',
  surplus: (n: number) =>
    `${s(n, 'specimen')} beyond the plan ${n === 1 ? 'is' : 'are'} in the notebook and not pulled.`,
  takeOut: (n: number) => (n === 1 ? 'Take it out' : 'Take them out'),
  settling: (done: number, left: number) => `Writing: ${done} done, ${left} still to go.`,
  stop: 'Stop',
  didSettle: (made: number, removed: number) =>
    [
      ...(made > 0 ? [`${s(made, 'specimen')} written in`] : []),
      ...(removed > 0 ? [`${s(removed, 'specimen')} taken out`] : []),
    ].join(', ') || 'Nothing had to be changed',
  question: 'The question of this study',
  questionHint: 'What do you want to know?',
  didQuestion: 'The question is changed.',
  printedHead: (name: string, n: number) => `${name}: ${n} of each, from top to bottom and left to right.`,

  variants: 'What is compared',
  variantName: (n: number) => `Name of variant ${n}`,
  newVariant: 'One more variant',
  newVariantHint: 'stitched',
  addVariant: 'Add it',
  elements: 'equal elements',
  notWhole: 'This is not a whole number from 1.',
  control: 'control',
  controlTitle: 'Pulled each day, to tell a change of the rig from a change of the specimens',
  earlier: 'Earlier',
  later: 'Later',
  remove: 'Remove',
  whatBecomes: (n: number, name: string) =>
    n === 1
      ? `What becomes of the specimen of “${name}”?`
      : `What becomes of the ${n} specimens of “${name}”?`,
  becomesLoose: 'not assigned: in no figure until they are',
  becomesOf: (name: string) => `to “${name}”`,
  becomesRemoved: 'removed too; they can be brought back',
  removeVariant: (name: string) => `Remove “${name}”`,
  keepVariant: 'Leave it',
  removedVariant: (name: string, n: number, to: string | null) =>
    n === 0
      ? `variant “${name}” removed`
      : `variant “${name}” removed, ${s(n, 'specimen')} ${to === 'removed' ? 'with it' : to === null ? 'not assigned' : `to “${to}”`}`,
  didAddVariant: (name: string) => `“${name}” is added.`,
  didRenameVariant: (from: string, to: string) => `“${from}” is now called “${to}”.`,
  didMoveVariant: (name: string) => `“${name}” has moved.`,
  didElements: (name: string) => `The elements of “${name}” are changed.`,
  didControl: (name: string) => `The mark of “${name}” as control is changed.`,

  result: 'What counts',
  resultWhat: 'The result of a specimen',
  quantities: {
    peakForce: 'its peak force',
    laterPeak: 'its later peak',
    work: 'its work to break',
    partialBreaks: 'its number of partial breaks',
    stiffness: 'its stiffness',
  } satisfies Record<Quantity, string>,
  quantityHelp: {
    peakForce: 'The greatest force that the specimen held.',
    laterPeak: 'The greatest force of a second part that lets go after the first, perhaps after a re-grip.',
    work: 'Force times extension up to the break: it needs the travel of the drive, or turns tapped by hand.',
    partialBreaks: 'How often a part let go while the rest still held.',
    stiffness: 'Force for each millimetre at the start of loading: it needs the travel of the drive.',
  } satisfies Record<Quantity, string>,
  dividedBy: 'Given as',
  divided: {
    force: 'force',
    'force-per-width': 'force for each mm of width',
    'force-per-area': 'force for each mm² of cross-section',
  },
  studyElements: 'Equal elements in each (dots, stitches), if it has such',
  didDivide: 'What a force is divided by is changed.',
  didStudyElements: 'The number of elements is changed.',

  howMany: 'How many of each',
  soMany: (n: number) => `${n} of each`,
  withScatter: 'With a scatter of',
  goal: 'To be shown:',
  goals: {
    difference: 'which differ',
    control: 'which differ from the control',
    trend: 'a trend over the number in their names',
    equivalence: 'that they are as good as each other',
    proof: 'that they hold a given load',
  } satisfies Record<PlanGoal, string>,
  toTellOf: {
    difference: ', to tell',
    control: ', to tell',
    trend: ', to tell a change of',
    equivalence: ', to show a difference under',
    proof: ', to show that at least',
  } satisfies Record<PlanGoal, string>,
  apartOf: {
    difference: 'apart',
    control: 'from the control',
    trend: 'from the first to the last',
    equivalence: 'where there is none',
    proof: 'hold it, if none lets go,',
  } satisfies Record<PlanGoal, string>,
  proofShare: 'Share that is to hold',
  times: (of100: string) => `${of100} times in 100`,
  powerLabel: 'How surely it is to be told',
  pull: ', pull',
  ofEach: 'of each.',
  scatter: 'Scatter within a variant',
  difference: 'Difference to tell',
  scatterOfRecords: (n: number, pct: string) => `take the scatter of the ${s(n, 'pull')} so far, ${pct} %`,
  stages: 'To be compared',
  stagesOf: (n: number) =>
    n === 1
      ? 'once'
      : n === 2
        ? 'twice, with more pulled in between'
        : `up to ${n} times, with more pulled in between`,
  within: 'Judged',
  withinAll: 'all together',
  withinBlocks: 'within days or batches',
  perBlock: 'Of each in a day or batch',
  reacts: 'How much one reacts in its own way to a day, % of the mean (unless told: half the scatter)',
  each: 'Or settle on a number of each',
  powerCurve: (power: string | undefined) =>
    `Chance of showing it against the number of each${power === undefined ? '' : `; as planned ${power}`}`,
  powerCaption: (n: number, power: string) => `${n} of each show it with a chance of ${power}.`,
  powerBeyond: 'The number planned lies beyond this curve.',
  specimensOfEach: 'specimens of each',
  didPlan: 'The plan is changed.',

  rigFit: 'Does the rig suit it?',
  expectedPeak: (unit: string) => `Peak expected, in ${unit}`,
  extension: 'Extension up to the break, in mm',
  timeToBreak: 'Or seconds from the first tug to the break',
  noRigYet: 'no rig is described yet',
  toMind: (n: number) => (n === 0 ? 'nothing to mind' : `${n} to mind`),
  noRig: 'No rig is described yet, so little can be checked.',
  withRig: (name: string) => `Checked against “${name}”.`,
  toRig: 'See the rig',
  suits: 'suits: ',
  mind: 'mind: ',

  order: 'The order of pulling',
  pulledOf: (pulled: number, all: number) => `${pulled} of ${all} pulled`,
  orderWhat: (seed: number, pulled: number, all: number) =>
    `Drawn by lot, one of each in a block: what changes over the day meets all alike. Seed ${seed} brings it back. ${pulled} of ${all} are pulled.`,
  noOrder: 'So many pulls have no order: ask for less.',
  print: 'Print the list',
  newOrder: 'Draw another order',
  didNewOrder: 'Another order is drawn.',
  slotState: {
    unmade: ', not in the notebook yet',
    planned: ', to be pulled',
    pulled: ', pulled',
    'left-out': ', left out',
  },

  care: 'Care',
  hazards: 'What do these specimens do, or hold?',
  didHazards: 'The cautions are changed.',

  modes: 'How they may fail',
  modesWhat:
    'A short list to choose from at each specimen. Where one variant fails in several ways, that is shown.',
  modeUsed: 'in use',
  newMode: 'One more way',
  addMode: 'Add it',
  didAddMode: (mode: string) => `“${mode}” is added.`,
  didRemove: (mode: string) => `“${mode}” is removed.`,

  notWritten: 'nothing yet',
  method: 'How it is done',
  methodWhat: 'How the specimens are made and held, and how fast they are pulled, in your own words.',
  didMethod: 'The method is changed.',
}
