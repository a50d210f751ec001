import type { BudgetLine, PeakForce, Reading } from '../../reading/document.ts'
import { LAST_SAMPLE_OF_WORK, sharesInProportion } from '../../reading/doubtInProportion.ts'
import { ownScaleOf } from '../../units/force.ts'
import { Z95 } from './doubt.ts'
import type { Quantity } from './quantity.ts'
import type { DoubtPart, Specimen, ValueStatus } from './specimen.ts'

/** What a table or a file name says of the specimen, beside its reading. */
export interface SpecimenFacts {
  readonly name: string
  readonly group: string
  readonly mode?: string | null
  readonly block?: string | null
  readonly day?: string | null
  readonly order?: number | null
  readonly dropped?: string | null
}

/**
 * One specimen of a comparison from its reading; the peak's budget comes with it. Numbers that are no force stand on the
 * log's own scale: `unit` says so, and `onOneScale` puts like to like.
 */
export function specimenOfReading(
  reading: Reading,
  quantity: Quantity,
  facts: SpecimenFacts,
): { specimen: Specimen; unit: string } {
  const { peakForce, laterPeaks, work, partialBreaks, stiffness } = reading.results
  const unit = unitOf(quantity, reading)
  const base = {
    name: facts.name,
    group: facts.group,
    mode: facts.mode ?? reading.specimen?.mode ?? null,
    block: facts.block ?? null,
    day: facts.day ?? null,
    order: facts.order ?? null,
    dropped: facts.dropped ?? null,
  }
  // What never broke did so at no less than what was reached, whatever is counted.
  const status: ValueStatus = peakForce.status === 'at-least' ? 'at-least' : 'measured'
  const figure = (
    value: number | null | undefined,
    half: number | null | undefined,
    known: ValueStatus = status,
  ) => {
    return { unit, specimen: { ...base, parts: [], ...withEnds(value ?? null, half ?? null, known) } }
  }
  // Where nothing was pulled there is nothing to count, not even that nothing broke.
  if (peakForce.status === 'no-pull')
    return { unit, specimen: { ...base, parts: [], ...withEnds(null, null, status) } }
  switch (quantity) {
    case 'peakForce':
      return { unit, specimen: { ...base, parts: partsOf(reading), ...peakValue(peakForce) } }
    case 'laterPeak': {
      const greatest = laterPeaks.toSorted((p, q) => q.valueN - p.valueN)[0]
      const value = withScale(reading, greatest?.valueN, greatest?.uncertaintyN, 'measured')
      return { unit, specimen: { ...base, ...value } }
    }
    case 'work': {
      const value = withScale(reading, work?.valueJ, work?.uncertaintyJ, status, LAST_SAMPLE_OF_WORK)
      return { unit, specimen: { ...base, ...value } }
    }
    case 'partialBreaks':
      return figure(partialBreaks, null)
    case 'stiffness':
      return {
        unit,
        specimen: { ...base, ...withScale(reading, stiffness?.value, null, 'measured') },
      }
  }
}

function unitOf(quantity: Quantity, { recording, results }: Reading): string {
  if (quantity === 'work') return 'J'
  if (quantity === 'partialBreaks') return ''
  return quantity === 'stiffness' ? (results.stiffness?.unit ?? '') : (ownScaleOf(recording.forceUnit) ?? 'N')
}

const partsOf = ({ budget }: Reading): DoubtPart[] => budget.map(partOf)

const partOf = ({ source, standardN, shared, of }: BudgetLine): DoubtPart => ({
  source,
  standard: standardN,
  shared,
  ...(of === undefined ? {} : { of }),
})

/**
 * A figure in proportion to the force (later peak, work, stiffness): the parts of the peak's doubt that a rig or a day moves together
 * move it by the same share, and what lies between samples by `lastSample` times that share. What its own doubt covers beside is none of
 * theirs; where that is not known, how far the figure itself may be off is not known either, and only what is shared stands.
 */
function withScale(
  reading: Reading,
  value: number | null | undefined,
  half: number | null | undefined,
  status: ValueStatus,
  lastSample = 0,
): Value & Pick<Specimen, 'parts'> {
  if (value === null || value === undefined) return { ...withEnds(null, null, status), parts: [] }
  const own: DoubtPart[] =
    half === null || half === undefined ? [] : [{ source: 'itself', standard: half / Z95, shared: 'none' }]
  const ofPeak = sharesInProportion(reading, lastSample).map(({ line, share }) => ({
    ...partOf(line),
    standard: share * Math.abs(value),
  }))
  const parts = [...own, ...ofPeak]
  const whole = own.length === 0 ? null : Z95 * Math.hypot(...parts.map(part => part.standard))
  return { ...withEnds(value, whole, status), parts }
}

type Value = Pick<Specimen, 'status' | 'value' | 'low' | 'high'>

function withEnds(value: number | null, half: number | null, status: ValueStatus): Value {
  if (value === null) return { status: 'not-recorded', value: null, low: null, high: null }
  return half === null
    ? { status, value, low: null, high: null }
    : { status, value, low: value - half, high: value + half }
}

function peakValue({ status, valueN, uncertaintyN, lowN, highN }: PeakForce): Value {
  if (status === 'no-pull') return { status: 'not-recorded', value: null, low: null, high: null }
  if (status === 'not-recorded' || status === 'not-reached' || valueN === null)
    return { status: status === 'measured' ? 'not-recorded' : status, value: null, low: null, high: null }
  // What was surely reached is the lower end; that is what a reading says of it, too.
  const symmetric = withEnds(status === 'at-least' ? (lowN ?? valueN) : valueN, uncertaintyN, status)
  return { ...symmetric, low: lowN ?? symmetric.low, high: highN ?? symmetric.high }
}
