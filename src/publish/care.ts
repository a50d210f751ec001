const RESULTS = 'Results are for comparison, not'

/** The same in short, where a picture has one line for it. */
export const NOT_FOR_RATING = `${RESULTS} for rating gear.`

/** The usual cautions, the same on every page that people read: first screen, report, README. */
export const CARE: readonly string[] = [
  'Wear eye protection, and stay out of the line of pull.',
  'Stored energy flies on breaking: guard the specimen.',
  "Never exceed the cell's capacity.",
  'Tenterhook only listens: it never starts, stops or moves a rig. The rig’s own stop is yours to build and to reach.',
  'Specimens that can burst, spray or ignite need their own precautions; follow the local rules.',
  `${RESULTS} for rating lifting, climbing, vehicle or structural gear: that takes an accredited laboratory and the local code.`,
]
