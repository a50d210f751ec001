/** A value that stands apart from the rest, with what made it a suspect. It is named, never dropped. */
export interface Suspect {
  /** Place in the list given. */
  readonly index: number
  readonly value: number
  readonly test: 'Dixon' | 'Grubbs' | 'generalized ESD'
  readonly statistic: number
  /** The statistic of a sound group exceeds this in 5 groups of 100. */
  readonly critical: number
}
