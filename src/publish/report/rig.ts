import type { Rig } from '../../core/calibration/rig.ts'
import { gravityOf } from '../../core/calibration/rigFacts.ts'
import { calibrationName } from '../../core/calibration/rigScale.ts'
import { list } from '../../core/statistics/compare/words.ts'
import { showForce, threeDigits } from '../../core/units/showForce.ts'
import { checksOf, latestCalibration } from '../figure/studyFigure.ts'
import { placesOfPulls } from '../study/pullOrder.ts'
import type { PublishedStudy } from '../study/study.ts'
import { figureOf } from './answer.ts'
import type { Block, Section } from './block.ts'

/** How it was done: the maker's words, the plan, and the order of the pulls. */
export function methodSection({ method, plan, specimens }: PublishedStudy): Section {
  const pulled = specimens.filter(one => one.logs.length > 0 || one.reading !== null)
  const dated = pulled.length > 0 && placesOfPulls(pulled) !== null
  const planned =
    plan === null
      ? []
      : [
          `Planned: ${plan.because}`,
          ...(plan.order.length > 0
            ? [`The order was drawn with seed ${plan.seed}: ${plan.order.join(', ')}.`]
            : []),
        ]
  return {
    name: 'method',
    heading: 'Method',
    blocks: [
      ...(method === ''
        ? [
            {
              kind: 'text',
              text: 'How the specimens were made and pulled is not told.',
              tone: 'pencil',
            } as const,
          ]
        : paragraphs(method)),
      ...planned.map(text => ({ kind: 'text', text }) as const),
      ...(pulled.length > 0
        ? [
            {
              kind: 'text',
              text: `${dated ? 'Pulled in this order' : 'Pulled (in which order is not told)'}: ${pulled.map(one => one.name).join(', ')}.`,
            } as const,
          ]
        : []),
    ],
  }
}

/** A maker's text: an empty line parts paragraphs. */
export const paragraphs = (text: string): Block[] =>
  text
    .split(/\r?\n\s*\r?\n/)
    .map(part => part.replace(/\s+/g, ' ').trim())
    .filter(part => part !== '')
    .map(part => ({ kind: 'text', text: part }))

/** The rig, its calibration with the class that it reaches, and the checks of the days. */
export function rigSection(study: PublishedStudy): Section {
  const { rig } = study
  const section = (blocks: readonly Block[]): Section => ({
    name: 'rig',
    heading: 'Rig and calibration',
    blocks,
  })
  if (rig === null)
    return section([
      {
        kind: 'text',
        text: 'Nothing is told of the rig, and its scale was not checked: the doubt given in this report is that of the reading only. A scale that is off by 5 % makes every force wrong by 5 %; differences on one rig hold as shares.',
        tone: 'warning',
      },
    ])
  const others = [...new Set(study.specimens.map(one => one.readWith.rig?.name ?? 'no rig'))].filter(
    name => name !== rig.name,
  )
  const facts = rigFacts(rig)
  return section([
    { kind: 'text', text: `The rig is “${rig.name}”.${rig.note ? ` ${rig.note}` : ''}` },
    ...(facts.length > 0 ? [{ kind: 'list', items: facts } as const] : []),
    ...(others.length > 0
      ? [
          {
            kind: 'text',
            text: `Some specimens were read with another: ${list(others)}.`,
            tone: 'warning',
          } as const,
        ]
      : []),
    ...calibrationBlocks(study, rig),
    ...checkBlocks(study),
  ])
}

function rigFacts(rig: Rig): string[] {
  const { cell, converter, drive, strokeMm, stiffness, extensionAt } = rig
  const facts: (string | null)[] = [
    cell.capacityN === undefined ? null : `Cell: capacity ${threeDigits(cell.capacityN)} N`,
    converter.name === undefined && converter.rateHz === undefined
      ? null
      : `Converter: ${[converter.name, converter.rateHz === undefined ? null : `${threeDigits(converter.rateHz)} readings a second`].filter(Boolean).join(', ')}`,
    drive.mmPerSecond === undefined ? null : `Speed of the grips: ${threeDigits(drive.mmPerSecond)} mm/s`,
    drive.mmPerTurn === undefined ? null : `Drive: ${threeDigits(drive.mmPerTurn)} mm a turn`,
    strokeMm === undefined ? null : `Stroke: ${threeDigits(strokeMm)} mm`,
    stiffness === undefined
      ? null
      : `Stiffness of the rig: ${threeDigits(stiffness.nPerMm)} N/mm; extensions are less its own stretch`,
    stiffness === undefined || extensionAt === 'specimen' ? null : 'Extension is measured at the drive',
    `Gravity: ${gravityOf(rig).text}`,
  ]
  return facts.filter(fact => fact !== null)
}

function calibrationBlocks(study: PublishedStudy, rig: Rig): Block[] {
  const calibration = latestCalibration(study)
  const quick = rig.calibrations.filter(one => one.document === 'tenterhook.quick-scale').at(-1)
  if (calibration === null)
    return [
      {
        kind: 'text',
        text:
          quick === undefined
            ? 'The rig has no calibration: its scale was not checked.'
            : `The scale stands on ${calibrationName(quick)}, good to ±${threeDigits(quick.doubtPct)} % of the force. It says nothing of the line between and beyond, and reaches no class.`,
        tone: 'warning',
      },
    ]
  const verdict = calibration.corrected ?? calibration
  const { fromN, toN } = verdict.range
  const reach =
    verdict.class === null || fromN === null || toN === null
      ? 'It reaches no class.'
      : `It keeps within the limits of class ${verdict.class} from ${threeDigits(fromN)} to ${threeDigits(toN)} N.`
  return [
    {
      kind: 'text',
      text: `Calibrated on ${calibration.date} with ${calibration.points.length} readings of known forces from ${threeDigits(calibration.calibratedRange.fromN)} to ${threeDigits(calibration.calibratedRange.toN)} N. ${reach} ${verdict.why}`,
    },
    { kind: 'text', text: `${calibration.limitsNote} This is no certificate.`, tone: 'pencil' },
    ...figureOf(study, 'calibration', 'What is left after the fit, in per cent of the load'),
    {
      kind: 'table',
      caption:
        'Errors at each load in per cent of it. In brackets their names: error of the reading (q), the same load again (repeatability b). Up against down (reversibility v), least step shown (resolution a).',
      head: ['load, N', 'error (q)', 'again (b)', 'up-down (v)', 'step (a)', 'class'],
      rows: verdict.steps.map(step => [
        threeDigits(step.atN),
        pct(step.indicationPct),
        pct(step.repeatabilityPct),
        pct(step.reversibilityPct),
        pct(step.resolutionPct),
        step.class ?? '–',
      ]),
    },
    ...(calibration.uncertainty.length > 0
      ? [
          {
            kind: 'text',
            text: `Doubt of one reading (95 %): ${calibration.uncertainty.map(one => showForce(one.atN, one.expandedN, 'N')).join('; ')}.`,
          } as const,
        ]
      : []),
    ...calibration.warnings.map(({ text }) => ({ kind: 'text', text, tone: 'warning' }) as const),
  ]
}

const pct = (value: number | null): string => (value === null ? '–' : value.toFixed(2).replace('-', '−'))

function checkBlocks(study: PublishedStudy): Block[] {
  const checks = checksOf(study)
  const out = checks.filter(check => check.verdict === 'out')
  if (checks.length === 0) return []
  return [
    {
      kind: 'text',
      text: `Checked ${checks.length === 1 ? 'once' : `${checks.length} times`} with a known mass: ${out.length === 0 ? 'within its limits each time' : `out of its limits on ${list(out.map(check => check.at.slice(0, 10)))}`}.`,
    },
    ...figureOf(study, 'check', 'The checks in their order'),
  ]
}
