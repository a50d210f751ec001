import type { Reading, Warning } from './document.ts'

/** Stands in the reading of every pull of the pretend rig, so that each curve and each page can mark it. */
export const PRACTICE: Warning = {
  code: 'practice',
  text: 'Recorded on the pretend rig: practice, invented by the program. It says nothing of any real specimen.',
}

export const isPracticeReading = ({ warnings }: Pick<Reading, 'warnings'>): boolean =>
  warnings.some(({ code }) => code === PRACTICE.code)

/** A name as it stands over a curve: practice is never taken for a pull. */
export const withPractice = (name: string, reading: Pick<Reading, 'warnings'>): string =>
  isPracticeReading(reading) ? `${name} (practice)` : name
