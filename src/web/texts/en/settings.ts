export const settingsTexts = {
  next: 'Every change here counts at once; go on where you were when it suits you.',

  units: 'Units of force',
  unitsWhat:
    'A click on the unit of a figure goes to the next of these. Without any, each log is shown in its own unit.',
  noUnits: 'None chosen: each log is shown in its own unit.',
  shown: 'shown first',
  earlier: 'Earlier',
  later: 'Later',
  remove: 'Remove',
  nowAt: (unit: string, at: number, of: number) => `${unit} is now ${at} of ${of}.`,
  didAdd: (name: string) => `“${name}” is added.`,
  didRemove: (name: string) => `“${name}” is removed.`,
  addUnit: 'Add a unit',
  chooseUnit: 'Choose a unit …',
  unitNames: {
    N: 'newton',
    kN: 'kilonewton',
    mN: 'millinewton',
    kgf: 'kilogram-force',
    gf: 'gram-force',
    tf: 'tonne-force',
    lbf: 'pound-force',
    ozf: 'ounce-force',
    kip: 'a thousand pound-force',
  },

  decimal: 'Decimal mark',
  decimals: { point: 'point, 68.2', comma: 'comma, 68,2' },
  theme: 'Paper',
  themes: { system: 'as the system has it', light: 'light', dark: 'dark' },
  operator: 'Operator: stands beside pulls, changes and notes made here',

  weights: 'Familiar weights',
  weightsWhat:
    'Things whose weight your readers know: a force is told in them too, as far as its doubt allows. Weigh them yourself.',
  weightsOf: 'Of which study',
  newStudies: 'those that new studies begin with',
  weightName: 'One of them',
  weightNameHint: 'full 1-litre milk carton',
  weightPlural: 'Several of them',
  weightPluralHint: 'full 1-litre milk cartons',
  weightMass: 'Mass in kg',
  addWeight: 'Add it',
  badMass: 'The mass is a number of kilograms above 0, such as 1.07.',

  keys: 'Keys',
  keyGroups: [
    {
      where: 'Everywhere',
      keys: [
        ['Ctrl+O', 'choose logs to take in'],
        ['Ctrl+V', 'take in the log, or the files, that were copied'],
        ['Ctrl+Z', 'take back what was done last'],
        ['Tab', 'go to the next thing that can be used'],
      ],
    },
    {
      where: 'At a curve',
      keys: [
        ['← →', 'move along it'],
        ['+ −', 'look closer, step back'],
        ['0', 'show all of it'],
        ['F', 'fit the height to what is seen, and back'],
        ['Page ↑ ↓', 'move far along it'],
        ['Home End', 'go to its start, to its end'],
      ],
    },
    {
      where: 'In Read',
      keys: [[', .', 'the specimen before, the next one']],
    },
  ] as readonly { readonly where: string; readonly keys: readonly (readonly [string, string])[] }[],

  about: 'This Tenterhook',
  version: 'Version',
  store: 'Studies lie in',
  inBrowser: 'this browser, on this device: export what you want to keep elsewhere',
  backUp: 'All of it can be saved as one file on the shelf.',
}
