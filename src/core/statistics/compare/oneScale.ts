import { isOwnScale, type ShownUnit } from '../../units/force.ts'
import type { ComparisonWarning } from '../document.ts'
import type { Specimen } from './specimen.ts'

interface OnScale {
  readonly specimen: Specimen
  readonly unit: string
}

/** Specimens that can be held against one another, and what they are in. */
export interface OneScale {
  /** In the order given; those of another scale are marked as left out, without their value. */
  readonly specimens: readonly Specimen[]
  readonly unit: string
  readonly warnings: readonly ComparisonWarning[]
}

/**
 * Which way holds best can be told without a unit of force, but not across scales: specimens in newton are compared
 * where there are any, and those in raw counts or in a unit that was not told wait, with the reason. Where there are
 * none in newton, those on the log's own scale are compared among themselves.
 */
export function onOneScale(given: readonly OnScale[]): OneScale {
  const units = [...new Set(given.filter(counts).map(one => one.unit))]
  const unit = units.find(one => !isOwn(one)) ?? units[0] ?? given[0]?.unit ?? 'N'
  const specimens = given.map(one =>
    one.unit === unit || (!isOwn(one.unit) && !isOwn(unit)) ? one.specimen : waiting(one, isOwn(unit)),
  )
  return { specimens, unit, warnings: isOwn(unit) ? [ownScaleWarning(unit)] : [] }
}

const counts = ({ specimen }: OnScale): boolean => specimen.dropped === null

const isOwn = (unit: string): boolean => isOwnScale(unit as ShownUnit)

function waiting({ specimen, unit }: OnScale, isMainOwn: boolean): Specimen {
  const what = unit === 'counts' ? 'its numbers are raw counts' : 'the unit of its numbers is not told'
  const why = isOwn(unit)
    ? `${what}, no force: ${isMainOwn ? 'they lie on another scale than the others' : 'name its rig with a calibration'}`
    : 'its numbers are forces, those of the others are not'
  return {
    ...specimen,
    status: 'not-recorded',
    value: null,
    low: null,
    high: null,
    parts: [],
    dropped: specimen.dropped ?? why,
  }
}

const ownScaleWarning = (unit: string): ComparisonWarning => ({
  code: 'no-force',
  text: `All values are ${unit === 'counts' ? 'raw counts' : 'numbers whose unit is not told'}: they say which holds more, and by what share, but not how much in newton. A rig with its calibration makes them forces.`,
})
