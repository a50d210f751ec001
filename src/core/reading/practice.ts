import type { Warning } from './document.ts'

/** Stands in the reading of every pull of the pretend rig, so that each curve and each page can mark it. */
export const PRACTICE: Warning = {
  code: 'practice',
  text: 'Recorded on the pretend rig: practice, invented by the program. It says nothing of any real specimen.',
}

interface Warned {
  readonly warnings: readonly { readonly code: string }[]
}

/** Whether a reading is of a practice pull; of a comparison, whether all that it compares is. */
export const saysPractice = ({ warnings }: Warned): boolean =>
  warnings.some(({ code }) => code === PRACTICE.code)

/** A name as it stands over a curve or beside a dot: practice is never taken for a pull. */
export const withPractice = (name: string, of: Warned): string =>
  saysPractice(of) ? `${name} (practice)` : name
