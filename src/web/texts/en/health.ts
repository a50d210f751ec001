import { HEALTH_GUIDE } from '../../../core/health/guide.ts'

/** Words of the health of a rig, in the place Rig, and where Plan and Pull lean on it. */
export const healthTexts = {
  heading: 'Is the rig well?',
  what: 'One minute hanging free and one under a mass show most of what ails a cheap rig. Leave out what you like; what is then not known is said.',
  steps: HEALTH_GUIDE,
  byLog: (step: string) => `Log: ${step}`,
  recordLabel: (step: string) => `Record: ${step}`,
  left: (s: number) => `${s} s to go`,
  stop: 'Stop',
  has: (readings: number) => `${readings} readings`,
  leaveOut: 'Leave out',
  judge: 'Look it through',
  nothing: 'Record a step, or choose a log, first.',
  well: 'The rig is well: nothing was found that costs a peak anything.',
  nothingWrong: 'In what was looked at nothing is wrong. What these records do not tell stands below.',
  wrong: (n: number) => (n === 1 ? 'One thing is wrong.' : `${n} things are wrong, gravest first.`),
  costs: (force: string) => `May cost up to ${force} on a peak.`,
  costsNothing: 'Costs nothing on a peak.',
  costUnknown: 'What it costs on a peak these records do not tell.',
  evidence: (step: string) => `Where it is seen: ${step.toLowerCase()}`,
  keep: 'Keep it in the history',
  didKeep: 'What was found is kept with the rig.',
  weeks: (n: number) => `Over the weeks: ${n === 1 ? 'one line' : `${n} lines`}`,
  weeksWhat: 'Checks that were kept, and what the rests of each day’s recordings show without any check.',
  day: 'Day',
  from: 'From',
  noise: 'Noise',
  found: 'Found',
  aCheck: 'a check',
  recordings: (n: number) => (n === 1 ? 'a recording' : `${n} recordings`),
  allWell: 'well',
  leastDrop: (force: string) => `With this rig a drop under ${force} cannot be seen.`,
  warm: (min: number) =>
    `When last checked, this rig took ${min === 1 ? 'a minute' : `${min} minutes`} after switching on until its zero stood.`,
  notWarm: (min: number) =>
    `Not warm yet if it was switched on just now: by its last check the zero of this rig stands in ${min === 1 ? 'a minute' : `${min} minutes`}.`,
} as const
