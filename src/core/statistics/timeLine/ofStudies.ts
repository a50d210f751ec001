import type { Check } from '../../calibration/checkDocument.ts'
import type { Comparison } from '../document.ts'
import type { TimeLine } from './document.ts'
import { type KeptReading, readTwice } from './readAgain.ts'
import { type TimeLineGiven, timeLine } from './timeLine.ts'

/** A specimen of the control variant as it is kept. */
export interface ControlSpecimen {
  /** As the comparison names them. */
  readonly group: string
  readonly name: string
  /** Rig of its recording; `null` where it is not known. */
  readonly rigId: string | null
  /** Its readings, in any order. */
  readonly readings: readonly KeptReading[]
}

/** The rig that most of the control's specimens were pulled on; `null` where none is known. */
export function rigOfControl(specimens: readonly Pick<ControlSpecimen, 'rigId'>[]): string | null {
  const times = new Map<string, number>()
  for (const { rigId } of specimens) if (rigId !== null) times.set(rigId, (times.get(rigId) ?? 0) + 1)
  return [...times].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null
}

/**
 * The line of a control variant from its comparison, which has the values and their days, and from what else is kept. Only what was pulled on one
 * rig stands on it; a value that is only a bound does not.
 */
export function timeLineOfControl(
  comparison: Pick<Comparison, 'specimens' | 'unit'>,
  {
    control,
    kept,
    checks,
  }: {
    readonly control: string
    readonly kept: readonly ControlSpecimen[]
    readonly checks: readonly Check[]
  },
): TimeLine {
  const rigId = rigOfControl(kept)
  const groups = new Set(kept.map(({ group }) => group))
  const own = comparison.specimens.filter(s => groups.has(s.group) && s.dropped === null && s.value !== null)
  const keptOf = new Map(kept.map(one => [JSON.stringify([one.group, one.name]), one]))
  const withKept = own.map(s => ({ ...s, kept: keptOf.get(JSON.stringify([s.group, s.name])) ?? null }))
  const elsewhere = withKept.filter(s => (s.kept?.rigId ?? rigId) !== rigId)
  const bounds = own.filter(s => s.status !== 'measured').length
  const given: TimeLineGiven = {
    control,
    unit: comparison.unit,
    pulls: withKept
      .filter(s => s.status === 'measured' && !elsewhere.includes(s))
      .map(({ name, day, value, kept: one }) => ({
        name,
        day,
        value: value!,
        engine: newest(one)?.engine ?? null,
      })),
    checks,
    readTwice: kept.flatMap(({ readings }) => readTwice(readings)),
    warnings: [
      ...(elsewhere.length > 0
        ? [
            {
              code: 'other-rig',
              text: `${elsewhere.length} of ${control} were pulled on another rig: they are not on the line.`,
            },
          ]
        : []),
      ...(bounds > 0
        ? [
            {
              code: 'at-least',
              text: `${bounds} of ${control} only reached a bound: they are not on the line.`,
            },
          ]
        : []),
    ],
  }
  return timeLine(given)
}

const newest = (one: ControlSpecimen | null): KeptReading | null =>
  one?.readings.reduce<KeptReading | null>(
    (last, reading) => (last === null || reading.madeAt > last.madeAt ? reading : last),
    null,
  ) ?? null
