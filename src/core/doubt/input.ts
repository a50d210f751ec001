/** What a part of the doubt is shared by. Shared parts do not shrink in a mean and cancel in a difference on one rig. */
export type SharedBy = 'none' | 'recording' | 'day' | 'rig'

export type Shape = 'normal' | 'rectangular' | 'triangular'

/**
 * One input of a measurement, with its standard uncertainty (GUM, JCGM 100:2008, chapter 4).
 * `df` are the degrees of freedom behind the standard uncertainty, ∞ where it is taken as known.
 */
export interface Input {
  readonly name: string
  readonly value: number
  readonly standard: number
  readonly df: number
  readonly shape: Shape
  readonly shared: SharedBy
}

export interface InputOptions {
  readonly name: string
  readonly value: number
  readonly shared?: SharedBy
  readonly df?: number
}

const input = (
  { name, value, shared = 'none', df = Infinity }: InputOptions,
  standard: number,
  shape: Shape,
): Input => ({ name, value, standard, df, shape, shared })

/** Type B, a standard uncertainty as given (GUM 4.3.2). */
export const normalInput = (options: InputOptions, standard: number): Input =>
  input(options, standard, 'normal')

/** Type B, an expanded uncertainty with its coverage factor, as certificates give it (GUM 4.3.3). */
export const expandedInput = (options: InputOptions, expanded: number, k: number): Input =>
  input(options, expanded / k, 'normal')

/** Type B, limits ± `halfWidth` between which nothing is preferred: a/√3 (GUM 4.3.7). */
export const rectangularInput = (options: InputOptions, halfWidth: number): Input =>
  input(options, halfWidth / Math.sqrt(3), 'rectangular')

/** Type B, limits ± `halfWidth` whose middle is preferred: a/√6 (GUM 4.3.9). */
export const triangularInput = (options: InputOptions, halfWidth: number): Input =>
  input(options, halfWidth / Math.sqrt(6), 'triangular')
