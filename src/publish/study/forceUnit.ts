import { type ForceUnit, parseForceUnit } from '../../core/units/force.ts'
import type { PublishedSpecimen } from './study.ts'

/** The unit that all logs of the specimens are in; newton where they differ or are raw counts. */
export function unitToTell(
  specimens: readonly Pick<PublishedSpecimen, 'recording' | 'reading'>[],
): ForceUnit {
  const said = specimens.flatMap(({ recording, reading }) => {
    const word = recording?.forceUnit ?? reading?.recording.forceUnit
    return word === undefined ? [] : [word === null ? null : parseForceUnit(word)]
  })
  const [first, ...others] = [...new Set(said)]
  return others.length > 0 || first === undefined || first === null || first === 'counts' ? 'N' : first
}
