import { printable } from './printable.ts'

/**
 * Something wrong with what a person gave us, told so that they can mend it.
 *
 * Bad input is an answer, not an exception: functions that meet it return an {@link Outcome}. Only a
 * programmer's mistake throws.
 */
export interface Problem {
  /** Where: file, line, column or field, as far as known. `carrier.csv, line 214` */
  readonly where: string
  /** What was wrong, with the offending text or figure in it. */
  readonly what: string
  /** What the person can do about it. */
  readonly cure: string
  /** What of all that can be said settles it, in the order of the cure: keys of the options of a log, say. */
  readonly fields?: readonly string[]
  /** Names it to those who can say more of the cure where they tell it: the command line its option, say. */
  readonly code?: string
}

/** A value, or every problem that stood in its way (all of them, not the first). */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] }

export const fine = <T>(value: T): Outcome<T> => ({ ok: true, value })

export const wrong = (
  ...problems: readonly Problem[]
): { readonly ok: false; readonly problems: readonly Problem[] } => ({
  ok: false,
  problems,
})

/** Longer than any message that is meant to be read. */
const MOST_LETTERS = 2_000

/** One line for a terminal or a log, without control characters: `carrier.csv, line 214: “1.2.3” is not a number. Cure.` */
export const problemText = ({ where, what, cure }: Problem): string =>
  printable(`${where}: ${what} ${cure}`, MOST_LETTERS)

/** What a caught error says, whatever was thrown. */
export const faultText = (error: unknown): string => (error instanceof Error ? error.message : String(error))
