import {
  CLASS_LIMITS,
  type ClassLimits,
  LEAST_RANGE_SHARE,
  LEAST_RUNS,
  LEAST_STEPS,
  MASSES_SHARE,
} from './classLimits.ts'
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
 *
 * No class is told that the test cannot carry: with fewer than {@link LEAST_STEPS} steps or {@link LEAST_RUNS} runs there is none,
 * and none better than the masses are known for. `forcesPct`: 95 % half-width of the true force at a step, in per cent.
 */
export function classify(found: IndicationErrors, forcesPct: (atN: number) => number): Verdict {
  const steps = found.steps.map(step => ({ ...step, class: classOfStep(step) }))
  const topN = steps.at(-1)?.atN ?? 0
  // A step that is a fifth on paper may miss it by its mass's tolerance.
  const counted = steps.filter(step => step.atN >= 0.99 * LEAST_RANGE_SHARE * topN)
  const repeats = counted.every(step => step.repeatabilityPct !== null)
  const reached = repeats
    ? CLASS_LIMITS.find(([, limits]) => counted.every(s => keeps(s, limits)) && keepsZero(found, limits))
    : undefined
  const none = (why: string): Verdict => ({
    errors: summary(counted, found.zeroPct),
    class: null,
    why,
    range: { fromN: null, toN: null },
    steps,
  })
  if (reached === undefined) return none(repeats ? whyNone(counted, found) : whyNotRepeated(counted))
  const thin = whyTooThin(reached[0], steps, counted)
  if (thin !== null) return none(thin)
  const massesPct = Math.max(...counted.map(step => forcesPct(step.atN)))
  const carried = CLASS_LIMITS.find(
    ([, own]) =>
      own.indicationPct >= reached[1].indicationPct && massesPct <= MASSES_SHARE * own.indicationPct,
  )
  if (carried === undefined) return none(whyMasses(reached[0], massesPct))
  const [name, limits] = carried
  let lowest = steps.length - 1
  while (lowest > 0 && keeps(steps[lowest - 1]!, limits) && steps[lowest - 1]!.repeatabilityPct !== null)
    lowest--
  const held = steps.slice(lowest)
  return {
    errors: summary(held, found.zeroPct),
    class: name,
    why:
      name === reached[0]
        ? whyReached(name, counted, found)
        : `Within the limits of class ${reached[0]}, but the forces are only known to ±${pctText(massesPct)}: class ${name} is the best that they can carry.`,
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

/** Few steps or runs keep within limits by luck. */
function whyTooThin(
  name: AccuracyClass,
  steps: readonly StepErrors[],
  counted: readonly StepErrors[],
): string | null {
  const runs = Math.min(...counted.map(step => step.runs))
  const lacks = [
    ...(steps.length < LEAST_STEPS ? [`${LEAST_STEPS} loads (there are ${steps.length})`] : []),
    ...(runs < LEAST_RUNS ? [`${LEAST_RUNS} runs (there are ${runs})`] : []),
  ]
  return lacks.length === 0
    ? null
    : `No class: what was measured keeps within the limits of class ${name}, but a class asks for ${lacks.join(' and ')}.`
}

const whyMasses = (name: AccuracyClass, massesPct: number): string =>
  `No class: what was measured keeps within the limits of class ${name}, but the forces are only known to ±${pctText(massesPct)}, and even class ${CLASS_LIMITS.at(-1)![0]} asks for ±${pctText(MASSES_SHARE * CLASS_LIMITS.at(-1)![1].indicationPct)}. Use better known masses.`

function whyNotRepeated(counted: readonly StepErrors[]): string {
  const lonely = counted.filter(step => step.repeatabilityPct === null)
  return `No class: repeatability is not known at ${lonely.length} of ${counted.length} steps. Load each step in two runs at least (the standard asks three).`
}

const threeDigits = (value: number): string => String(Number(value.toPrecision(3)))

const pctText = (value: number): string => `${value.toFixed(2).replace('-', '−')} %`
