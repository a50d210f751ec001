import { adjustmentText } from '../../core/reading/adjustment.ts'
import { correctedForce } from '../../core/reading/correctedForce.ts'
import type { Reading } from '../../core/reading/document.ts'
import { elementsOf } from '../../core/reading/elementsOf.ts'
import { eventLabel } from '../../core/reading/eventLabel.ts'
import { explain } from '../../core/reading/explain.ts'
import { ledgerAmounts, ledgerOf, type ShowForce, showForceIn } from '../../core/reading/explainLedger.ts'
import { peakEnds, peakWords } from '../../core/reading/peakWords.ts'
import { withPractice } from '../../core/reading/practice.ts'
import type { Recording } from '../../core/recording.ts'
import { thinned } from '../../core/signal/thin.ts'
import {
  type ForceUnit,
  fromNewton,
  isOwnScale,
  N_PER,
  type ShownUnit,
  shownUnitOf,
} from '../../core/units/force.ts'
import { decimalsFor } from '../../core/units/showForce.ts'
import { readingFigure } from '../figure/readingFigure.ts'
import { lookIn } from '../figure/shape.ts'
import { hasCurve } from '../figure/studyFigure.ts'
import type { PublishedSpecimen, PublishedStudy, Remark } from '../study/study.ts'
import type { Block, CurveData, FigureBlock, LedgerRow, Section } from './block.ts'

/** Each specimen with its curve, what happened, and everything that made its figure. */
export function specimensSection({ specimens, forceUnit, page }: PublishedStudy): Section | null {
  const told = specimens.filter(one => one.reading !== null || one.logs.length > 0)
  if (told.length === 0) return null
  const folded = told.filter(one => page.folded.includes(one.name)).map(one => one.name)
  return {
    name: 'specimens',
    heading: 'Specimens',
    blocks: [
      ...told.flatMap((one, i) =>
        folded.includes(one.name) ? [] : specimenBlocks(one, i + 1, unitOf(one, forceUnit)),
      ),
      ...(folded.length === 0
        ? []
        : [
            {
              kind: 'text',
              text: `Not shown here one by one, but part of every figure like the others: ${folded.join(', ')}.`,
              tone: 'pencil',
            } as const,
          ]),
    ],
  }
}

/** A specimen whose numbers are no force is told on its log's own scale. */
const unitOf = ({ reading }: PublishedSpecimen, unit: ForceUnit): ShownUnit =>
  reading === null ? unit : shownUnitOf(reading.recording.forceUnit, unit)

function specimenBlocks(one: PublishedSpecimen, place: number, unit: ShownUnit): Block[] {
  const { reading } = one
  const show = showForceIn(unit)
  const peak = reading === null ? 'not read yet' : peakWords(reading.results.peakForce, unit)
  const heading: Block = {
    kind: 'heading',
    text: `${reading === null ? one.name : withPractice(one.name, reading)}: ${peak}`,
    anchor: `specimen-${place}`,
  }
  const facts = factsOf(one)
  const about: Block[] = [
    ...(one.status === 'left-out'
      ? [
          {
            kind: 'text',
            text: `Left out of the figures: ${one.statusReason || 'no reason is told'}.`,
            tone: 'warning',
          } as const,
        ]
      : []),
    ...(facts === '' ? [] : [{ kind: 'text', text: facts } as const]),
    ...(one.note === '' ? [] : [{ kind: 'text', text: `Note: ${one.note}` } as const]),
    ...one.remarks.map(remark => ({ kind: 'text', text: remarkText(remark) }) as const),
  ]
  const photos = one.photos.map(photo => ({ kind: 'photo', photo }) as const)
  const logs: Block[] = one.logs.map(log => ({
    kind: 'text',
    text: `Log “${log.name}”, ${log.byteLength} bytes, SHA-256 ${log.sha256}.`,
    tone: 'pencil',
  }))
  if (reading === null) return [heading, ...about, ...photos, ...logs]
  const { whys } = explain(reading, show)
  const warned = new Set(reading.warnings.map(warning => warning.code))
  return [
    heading,
    ...about,
    ...(hasCurve(one) ? [curveFigure(one, place, unit)] : []),
    ...ledgerBlocks(reading, show, unit),
    ...eventBlocks(reading, unit),
    ...whys
      .filter(why => why.about !== 'peakForce')
      .map(
        (why): Block =>
          warned.has(why.about)
            ? { kind: 'text', text: why.text, tone: 'warning' }
            : { kind: 'text', text: why.text },
      ),
    ...photos,
    ...logs,
  ]
}

function factsOf(one: PublishedSpecimen): string {
  const mm = (value: number | null, word: string) => (value === null ? null : `${word} ${value} mm`)
  const facts = [
    one.variant === null ? null : `variant ${one.variant}`,
    one.failureMode === null ? null : `failed so: ${one.failureMode}`,
    one.elements === null ? null : `${one.elements} equal elements`,
    mm(one.widthMm, 'width'),
    mm(one.thicknessMm, 'thickness'),
    mm(one.lengthMm, 'length'),
    one.batch === '' ? null : `batch ${one.batch}`,
    one.operator === '' ? null : `pulled by ${one.operator}`,
    one.temperatureC === null ? null : `at ${one.temperatureC} °C`,
    one.humidityPct === null ? null : `${one.humidityPct} % humidity`,
    one.pulledAt === null ? null : `on ${one.pulledAt.slice(0, 16).replace('T', ' ')}`,
  ].filter(fact => fact !== null)
  const text = facts.join('; ')
  return text === '' ? '' : `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}

export const remarkText = ({ text, operator, at }: Remark): string => {
  const by = [operator, at?.slice(0, 10)].filter(Boolean).join(', ')
  return by === '' ? text : `${text} (${by})`
}

function ledgerBlocks(reading: Reading, show: ShowForce, unit: ShownUnit): Block[] {
  const ledger = ledgerOf(reading, show)
  const { peakForce } = reading.results
  const [why] = explain(reading, show).whys
  if (ledger === null) return why === undefined ? [] : [{ kind: 'text', text: why.text }]
  const amounts = ledgerAmounts(ledger, unit)
  const total = peakForce.status === 'measured' ? 'peak force' : 'peak force, at least'
  const rows: LedgerRow[] = [
    ...amounts.lines.map(({ sign, amount, text }) => ({ amount: `${sign} ${amount} ${unit}`.trim(), text })),
    { amount: show(ledger.totalN, peakForce.uncertaintyN, peakEnds(peakForce)), text: total, total: true },
  ]
  const halves = amounts.halfWidths.map(({ amount, text }) => `${amount} ${unit} ${text}`)
  return [
    {
      kind: 'ledger',
      rows,
      under: [
        ...(halves.length > 0 ? [`Half-widths of the doubt: ${halves.join(' · ')}.`] : []),
        ...(why === undefined ? [] : [why.text]),
      ],
    },
  ]
}

function eventBlocks(reading: Reading, unit: ShownUnit): Block[] {
  if (reading.events.length === 0) return []
  const decimals = Math.min(2, decimalsWorth(reading, unit))
  const elements = elementsOf(reading)
  return [
    {
      kind: 'list',
      ordered: true,
      items: reading.events.map(
        event => `At ${event.atS.toFixed(2)} s: ${eventLabel(event, { unit, decimals, elements })}.`,
      ),
    },
  ]
}

/** Decimals of a force that its noise and the step of the display leave any meaning. */
const decimalsWorth = ({ recording: { noiseN, quantumN } }: Reading, unit: ShownUnit): number =>
  Math.min(4, decimalsFor(fromNewton(Math.max(noiseN, quantumN) * 2, unit)))

/** Columns of a curve that a page lets one look closer at. */
const CURVE_COLUMNS = 1_500

function curveFigure(
  one: PublishedSpecimen & { recording: Recording; reading: Reading },
  place: number,
  unit: ShownUnit,
): FigureBlock {
  const { recording, reading } = one
  return {
    kind: 'figure',
    name: `specimen-${place}`,
    caption: `${one.name}: force over time`,
    curve: curveData(recording, reading, unit),
    draw: ({ look, shape, prefix }) =>
      readingFigure(recording, reading, {
        unit,
        look: lookIn(look, shape),
        width: shape.width,
        height: shape.height,
        prefix,
      }),
  }
}

function curveData(recording: Recording, reading: Reading, unit: ShownUnit): CurveData {
  const { gaps } = reading.recording
  const corrected = thinned(recording.timeS, correctedForce(recording, reading), CURVE_COLUMNS, gaps)
  const raw = thinned(recording.timeS, recording.forceN, CURVE_COLUMNS, gaps)
  const step = Math.max(reading.recording.noiseN, reading.recording.quantumN) / 20
  const decimals = Math.min(6, decimalsFor(fromNewton(step, unit)))
  const values = (all: Float64Array): (number | null)[] =>
    Array.from(all, forceN =>
      Number.isNaN(forceN) ? null : Number(fromNewton(forceN, unit).toFixed(decimals)),
    )
  return {
    unit,
    perN: isOwnScale(unit) ? 1 : N_PER[unit],
    decimals: decimalsWorth(reading, unit),
    timeS: Array.from(corrected.timeS, s => Number(s.toFixed(4))),
    force: values(corrected.value),
    // The raw curve keeps the corrected one's times only where nothing was thinned.
    raw: sameTimes(corrected.timeS, raw.timeS) ? values(raw.value) : [],
  }
}

const sameTimes = (a: Float64Array, b: Float64Array): boolean =>
  a.length === b.length && a.every((s, i) => s === b[i] || (Number.isNaN(s) && Number.isNaN(b[i]!)))

/** What a person changed in the readings, by whom, when and why. */
export function adjustedSection({ specimens }: PublishedStudy): Section {
  const items = specimens.flatMap(one =>
    (one.reading?.adjustments ?? []).map(
      adjustment =>
        `${one.name}: ${adjustmentText(adjustment)}. ${adjustment.why} (${adjustment.who}, ${adjustment.when.slice(0, 10)})`,
    ),
  )
  return {
    name: 'adjusted',
    heading: 'What was adjusted, and why',
    blocks:
      items.length > 0
        ? [{ kind: 'list', items, ordered: true }]
        : [{ kind: 'text', text: 'No reading was adjusted by hand.' }],
  }
}

/** What does not count in full, with its reason: left out, set aside, not recorded, only reached. */
export function spoiledSection({ specimens, comparison, forceUnit }: PublishedStudy): Section {
  const items = specimens.flatMap(one => [
    ...(one.status === 'left-out'
      ? [`${one.name} was left out: ${one.statusReason || 'no reason is told'}.`]
      : []),
    ...one.setAside.map(log => `${one.name}: the log “${log.name}” was set aside: ${log.why}.`),
    ...statusItems(one, unitOf(one, forceUnit)),
  ])
  const apart = (comparison?.specimens ?? []).flatMap(one =>
    one.suspect === null
      ? []
      : [
          `${one.name} stands apart from the others of ${one.group} (${one.suspect.test}); it counts all the same.`,
        ],
  )
  const planned = specimens.filter(
    one => one.logs.length === 0 && one.reading === null && one.status === 'planned',
  )
  const open =
    planned.length === 0 ? [] : [`Planned and not pulled: ${planned.map(one => one.name).join(', ')}.`]
  const all = [...items, ...apart, ...open]
  return {
    name: 'spoiled',
    heading: 'What was spoiled or left out',
    blocks:
      all.length > 0
        ? [{ kind: 'list', items: all }]
        : [{ kind: 'text', text: 'Nothing: every specimen counts.' }],
  }
}

function statusItems({ name, reading }: PublishedSpecimen, unit: ShownUnit): string[] {
  if (reading === null) return []
  const { peakForce } = reading.results
  switch (peakForce.status) {
    case 'measured':
      return peakForce.zero === 'as-indicated'
        ? [
            `${name}: ${peakWords(peakForce, unit)}. The empty cell was not seen, and its zero is the indicator’s own.`,
          ]
        : []
    case 'at-least':
      return [`${name}: ${peakWords(peakForce, unit)}. The true peak is not known, and counts as that.`]
    case 'not-recorded':
      return [`${name}: its peak was not recorded.`]
    case 'no-pull':
      return [`${name}: no pull in this record.`]
    case 'not-reached':
      return [`${name}: ${peakWords(peakForce, unit)}.`]
  }
}
