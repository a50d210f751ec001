import { CLASS_LIMITS, type ClassLimits, LEAST_RANGE_SHARE } from './classLimits.ts'
import type { AccuracyClass, CalibrationErrors, Verdict } from './document.ts'
import { greatest, type IndicationErrors, type StepErrors } from './errors.ts'

type StepFigure = 'indicationPct' | 'repeatabilityPct' | 'reversibilityPct' | 'resolutionPct'

const FIGURES: readonly (readonly [StepFigure, string])[] = [
  ['indicationPct', 'error of indication (q)'],
  ['repeatabilityPct', 'repeatability (b)'],
  ['reversibilityPct', 'reversibility (v)'],
  ['resolutionPct', 'resolution (a)'],
]

/**
 * The best class whose limits are kept at every step from a fifth of the greatest force up, and the range over which
 * they are kept: it starts at a measured step, so neither below the lowest one nor where the resolution is too coarse.
 */
export function classify(found: IndicationErrors): Verdict {
  const steps = found.steps.map(step => ({ ...step, class: classOfStep(step) }))
  const topN = steps.at(-1)?.atN ?? 0
  // A step that is a fifth on paper may miss it by its mass's tolerance.
  const counted = steps.filter(step => step.atN >= 0.99 * LEAST_RANGE_SHARE * topN)
  const repeats = counted.every(step => step.repeatabilityPct !== null)
  const reached = repeats
    ? CLASS_LIMITS.find(([, limits]) => counted.every(s => keeps(s, limits)) && keepsZero(found, limits))
    : undefined
  if (reached === undefined)
    return {
      errors: summary(counted, found.zeroPct),
      class: null,
      why: repeats ? whyNone(counted, found) : whyNotRepeated(counted),
      range: { fromN: null, toN: null },
      steps,
    }
  const [name, limits] = reached
  let lowest = steps.length - 1
  while (lowest > 0 && keeps(steps[lowest - 1]!, limits) && steps[lowest - 1]!.repeatabilityPct !== null)
    lowest--
  const held = steps.slice(lowest)
  return {
    errors: summary(held, found.zeroPct),
    class: name,
    why: whyReached(name, counted, found),
    range: { fromN: held[0]!.atN, toN: topN },
    steps,
  }
}

// A hair of room, so that 0.5 % computed as 0.5000000001 % is not thrown out by rounding.
const within = (value: number | null, limit: number): boolean =>
  value === null || Math.abs(value) <= limit * (1 + 1e-9)

const keeps = (step: StepErrors, limits: ClassLimits): boolean =>
  FIGURES.every(([figure]) => within(step[figure], limits[figure]))

const keepsZero = (found: IndicationErrors, limits: ClassLimits): boolean =>
  within(found.zeroPct, limits.zeroPct)

const classOfStep = (step: StepErrors): AccuracyClass | null =>
  step.repeatabilityPct === null
    ? null
    : (CLASS_LIMITS.find(([, limits]) => keeps(step, limits))?.[0] ?? null)

const summary = (steps: readonly StepErrors[], zeroPct: number | null): CalibrationErrors => {
  const most = (figure: StepFigure) => greatest(steps.flatMap(step => step[figure] ?? []))
  return {
    indicationPct: most('indicationPct'),
    repeatabilityPct: most('repeatabilityPct'),
    reversibilityPct: most('reversibilityPct'),
    zeroPct,
    resolutionPct: most('resolutionPct'),
  }
}

/** The figure that goes furthest past limits, in words; `null` where none passes them. */
function worst(steps: readonly StepErrors[], found: IndicationErrors, limits: ClassLimits): string | null {
  const all = [
    ...FIGURES.flatMap(([figure, name]) =>
      steps.flatMap(step => {
        const value = step[figure]
        return value === null
          ? []
          : [{ name, value, limit: limits[figure], at: ` at ${threeDigits(step.atN)} N` }]
      }),
    ),
    ...(found.zeroPct === null
      ? []
      : [{ name: 'zero return (f0)', value: found.zeroPct, limit: limits.zeroPct, at: '' }]),
  ].filter(({ value, limit }) => !within(value, limit))
  all.sort((a, b) => Math.abs(b.value) / b.limit - Math.abs(a.value) / a.limit)
  const first = all[0]
  return first ? `${first.name} is ${pctText(first.value)}${first.at}, over ${first.limit} %` : null
}

function whyReached(name: AccuracyClass, counted: readonly StepErrors[], found: IndicationErrors): string {
  const better = CLASS_LIMITS[CLASS_LIMITS.findIndex(([n]) => n === name) - 1]
  const reason = better === undefined ? null : worst(counted, found, better[1])
  const missing = [
    ...(found.zeroPct === null ? ['zero return'] : []),
    ...(counted.every(step => step.reversibilityPct === null) ? ['reversibility'] : []),
    ...(counted.some(step => step.resolutionPct === null) ? ['resolution'] : []),
  ]
  return [
    `Within the limits of class ${name}`,
    reason === null ? '.' : `, not of class ${better?.[0]}: ${reason}.`,
    missing.length > 0 ? ` Not measured: ${missing.join(', ')}.` : '',
  ].join('')
}

function whyNone(counted: readonly StepErrors[], found: IndicationErrors): string {
  const widest = CLASS_LIMITS.at(-1)!
  return `Not within the limits of class ${widest[0]}: ${worst(counted, found, widest[1])}.`
}

function whyNotRepeated(counted: readonly StepErrors[]): string {
  const lonely = counted.filter(step => step.repeatabilityPct === null)
  return `No class: repeatability is not known at ${lonely.length} of ${counted.length} steps. Load each step in two runs at least (the standard asks three).`
}

const threeDigits = (value: number): string => String(Number(value.toPrecision(3)))

const pctText = (value: number): string => `${value.toFixed(2).replace('-', '−')} %`
