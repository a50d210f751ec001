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
  const apart = specimens.filter(one => one.otherScale)
  return {
    specimens,
    unit,
    warnings: [
      ...(apart.length > 0 ? [otherScaleWarning(apart)] : []),
      ...(isOwn(unit) ? [ownScaleWarning(unit)] : []),
    ],
  }
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
    // A package tells the reason again, as it was found.
    ...(specimen.dropped === null || specimen.dropped === why ? { otherScale: true } : {}),
    dropped: specimen.dropped ?? why,
  }
}

/** Specimens whose rig nobody named are neither weak nor missing: what they lack is said first. */
function otherScaleWarning(apart: readonly Specimen[]): ComparisonWarning {
  const names = apart.map(({ name }) => name)
  const listed = `${names.slice(0, 12).join(', ')}${names.length > 12 ? ' …' : ''}`
  return {
    code: 'other-scale',
    text: `Recorded on another scale than the rest, and so in no figure yet: ${listed}. Name ${names.length === 1 ? 'its' : 'their'} rig, with a calibration, to have ${names.length === 1 ? 'it' : 'them'} count.`,
  }
}

const ownScaleWarning = (unit: string): ComparisonWarning => ({
  code: 'no-force',
  text: `All values are ${unit === 'counts' ? 'raw counts' : 'numbers whose unit is not told'}: they say which holds more, and by what share, but not how much in newton. A rig with its calibration makes them forces.`,
})
