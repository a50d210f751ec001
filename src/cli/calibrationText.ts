import type { Calibration, Verdict, Warning } from '../core/calibration/document.ts'
import type { QuickScale } from '../core/calibration/rig.ts'
import { verdictWords } from '../core/calibration/verdictWords.ts'
import { decimalsFor, plainNumber, showForce, threeDigits } from '../core/units/showForce.ts'
import type { Io } from './io.ts'
import { optionFor } from './optionFor.ts'
import { pen, wrapped } from './terminal.ts'

type View = Pick<Io, 'env' | 'outIsTerminal' | 'columns'>

/** A calibration for the terminal: class, fit, errors step by step, doubt and what to take note of. */
export function calibrationText(calibration: Calibration, io: View): string {
  const columns = Math.max(40, Math.min(io.columns, 110))
  const draw = pen(io)
  const heading = (text: string) => `\n${draw('strong', text)}`
  const best = calibration.corrected ?? calibration
  const lines = [
    draw('strong', verdictWords(best)),
    ...(best.why === `Within the limits of class ${best.class}.` ? [] : [wrapped(best.why, columns)]),
    ...(calibration.corrected === null
      ? []
      : [wrapped(`As the indicator reads now, without this calibration: ${calibration.why}`, columns)]),
    draw('pencil', `(${calibration.limitsNote})`),
    heading('Fit'),
    `  ${fitLine(calibration)}`,
    `  ${wrapped(calibration.degreeWhy, columns - 2, '  ')}`,
    ...(calibration.residualSd === null
      ? []
      : [
          `  scatter about it ${threeDigits(calibration.residualSd)} N, by ${calibration.df} ${calibration.df === 1 ? 'reading' : 'readings'} more than the fit needs (degrees of freedom)${calibration.weighted ? ', points weighted by the doubt of their loads' : ''}`,
        ]),
    `  gravity ${calibration.gravityFrom.text}`,
    heading('Errors at each load, per cent of it'),
    ...stepLines(best),
    heading('Doubt of one reading (95 %)'),
    ...doubtLines(calibration),
    ...(calibration.monteCarlo === null
      ? []
      : [
          `  checked by ${calibration.monteCarlo.trials} calibrations drawn by chance (Monte Carlo), at ${threeDigits(calibration.monteCarlo.atN)} N: ±${threeDigits(calibration.monteCarlo.expandedN)} N (budget ±${threeDigits(calibration.monteCarlo.byBudgetN)} N)`,
        ]),
    heading('The cell'),
    ...behaviourLines(calibration),
    ...noteLines(calibration.warnings, io),
  ]
  return `${lines.join('\n')}\n`
}

function fitLine({ coefficients, standardErrors, readingUnit, throughZero }: Calibration): string {
  const terms = coefficients.flatMap((c, k) => {
    if (k === 0 && throughZero) return []
    const size = c.toPrecision(8).replace('-', '−')
    const name = k === 0 ? '' : k === 1 ? ' × reading' : ` × reading^${k}`
    return [`${size}${name} (±${(standardErrors[k] ?? 0).toPrecision(2)})`]
  })
  return `force in N = ${terms.join(' + ')}, reading in ${readingUnit}`
}

const pct = (value: number | null): string =>
  (value === null ? '–' : value.toFixed(2).replace('-', '−')).padStart(8)

function stepLines({ steps }: Verdict): string[] {
  return [
    `  ${'load, N'.padStart(9)}${['error', 'again', 'up-down', 'step', 'class'].map(t => t.padStart(8)).join('')}`,
    ...steps.map(
      step =>
        `  ${threeDigits(step.atN).padStart(9)}${pct(step.indicationPct)}${pct(step.repeatabilityPct)}${pct(step.reversibilityPct)}${pct(step.resolutionPct)}${(step.class ?? '–').padStart(8)}`,
    ),
    '  error of the reading (q), same load again (repeatability b), up against down (reversibility v), least step (resolution a)',
  ]
}

function doubtLines({ uncertainty }: Calibration): string[] {
  const top = uncertainty.at(-1)
  if (top === undefined) return []
  return [
    ...uncertainty.map(u => `  at ${showForce(u.atN, u.expandedN, 'N')}`),
    `  made up, at ${threeDigits(top.atN)} N, of parts (standard uncertainties):`,
    ...top.parts.map(
      part =>
        `    ${plainNumber(part.standardN, decimalsFor(part.standardN)).padStart(9)} N  ${part.source}${part.shared === 'rig' ? ' (shared by all this rig reads)' : ''}`,
    ),
  ]
}

function behaviourLines({ behaviour, readingUnit, zeroReading }: Calibration): string[] {
  const line = (name: string, value: number | null) =>
    `  ${name.padEnd(30)}${value === null ? 'not measured' : `${value.toFixed(3).replace('-', '−')} % of the range`}`
  return [
    `  ${'zero'.padEnd(30)}${Number(zeroReading.toPrecision(8))} ${readingUnit}`,
    `  ${'span'.padEnd(30)}${Number(behaviour.spanReading.toPrecision(8))} ${readingUnit}`,
    line('bend (non-linearity)', behaviour.nonLinearityPct),
    line('up against down (hysteresis)', behaviour.hysteresisPct),
    line('zero after load (return)', behaviour.zeroReturnPct),
  ]
}

/** What a person should know, one paragraph each; nothing where there is nothing. */
export function noteLines(warnings: readonly Warning[], io: View): string[] {
  if (warnings.length === 0) return []
  const columns = Math.max(40, Math.min(io.columns, 110))
  const draw = pen(io)
  return [
    `\n${draw('strong', 'Take note')}`,
    ...warnings.map(
      w => `  ${wrapped(`${draw('warning', w.code)}: ${w.text}${optionFor(w.code)}`, columns - 2, '    ')}`,
    ),
  ]
}

/** The same for a scale by one mass or a typed doubt. */
export function quickScaleText(scale: QuickScale): string {
  const how =
    scale.basis === 'one-mass'
      ? `by one known force of ${threeDigits(scale.appliedN ?? 0)} N`
      : 'as the indicator shows it, with your doubt'
  return [
    `Scale ${how}: ${scale.newtonPerReading.toPrecision(8)} N for each ${scale.readingUnit === 'counts' ? 'count' : scale.readingUnit}, ±${threeDigits(scale.doubtPct)} % of the force.`,
    'It says nothing of the line between and beyond, and reaches no class: calibrate with several masses when you can.',
    '',
  ].join('\n')
}
