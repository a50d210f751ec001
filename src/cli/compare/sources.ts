import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Reading } from '../../core/reading/document.ts'
import type { Recording } from '../../core/recording.ts'
import { specimenOfReading } from '../../core/statistics/compare/fromReading.ts'
import { DEFAULT_PATTERN } from '../../core/statistics/compare/namePattern.ts'
import { onOneScale } from '../../core/statistics/compare/oneScale.ts'
import { type Dimensions, type Per, perDimension } from '../../core/statistics/compare/perDimension.ts'
import type { Quantity } from '../../core/statistics/compare/quantity.ts'
import { readingWarnings } from '../../core/statistics/compare/readingWarnings.ts'
import type { Specimen } from '../../core/statistics/compare/specimen.ts'
import type { Scale } from '../../core/statistics/compare/words.ts'
import type { ComparisonWarning } from '../../core/statistics/document.ts'
import { type ForceUnit, N_PER, ownScaleOf, parseForceUnit } from '../../core/units/force.ts'
import { type LogOptions, readTable } from '../../logs/index.ts'
import type { AdjustFlag } from '../adjustFlag.ts'
import { readBytes } from '../files.ts'
import type { Io } from '../io.ts'
import { type LogFlags, logOptionsOf } from '../logOptions.ts'
import { openRig } from '../rigFile.ts'
import { openReadings } from './openReadings.ts'
import type { OpenedReading } from './readJob.ts'
import { factsFrom, openTableFacts } from './specimenFacts.ts'
import { tableSpecimens } from './tableSpecimens.ts'

/** What is compared, and by what. */
export interface CompareFlags extends Omit<LogFlags, 'unit'> {
  readonly by?: string
  readonly group?: string
  readonly value?: string
  readonly quantity?: Quantity
  readonly specimens?: string
  readonly rig?: string
  readonly adjust?: readonly AdjustFlag[]
  readonly per?: Per
  readonly dimensionDoubt?: number
  readonly block?: string
  readonly control?: string
  readonly against?: string
  readonly mode?: string
  readonly holds?: number
  readonly covariate?: string
  readonly like?: string
  readonly drop: readonly Dropped[]
  readonly worth: number | null
  readonly seed: number
  readonly unit?: string
  readonly show?: ForceUnit
}

export interface Dropped {
  readonly name: string
  readonly why: string
}

/** What is to be compared, from whichever source. */
export interface Found {
  readonly specimens: readonly Specimen[]
  readonly dimensionsOf: (specimen: Specimen) => Dimensions | null
  readonly quantity: string
  readonly unit: string
  readonly shown: Scale['shown']
  readonly warnings: readonly ComparisonWarning[]
  readonly understood: string
  /** Of those whose curve was asked for and is there. */
  readonly curves: readonly FoundCurve[]
}

export interface FoundCurve {
  readonly recording: Recording
  readonly reading: Reading
  readonly group: string
  readonly name: string
}

/** What logs and reading documents give beside. */
export interface FoundInFiles extends Found {
  readonly opened: readonly OpenedReading[]
}

/** The values of a table. */
export async function fromTable(path: string, flags: CompareFlags): Promise<Outcome<Found>> {
  const bytes = await readBytes(path)
  if (!bytes.ok) return bytes
  const table = readTable(bytes.value, path)
  if (!table.ok) return table
  const { group, value, block, unit, covariate } = flags
  const read = tableSpecimens(table.value, {
    ...(group === undefined ? {} : { group }),
    ...(value === undefined ? {} : { value }),
    ...(block === undefined ? {} : { block }),
    ...(unit === undefined ? {} : { unit }),
    ...(covariate === undefined ? {} : { covariate }),
  })
  if (!read.ok) return read
  const { specimens, dimensions, column, forceUnit, understood } = read.value
  return fine({
    specimens,
    dimensionsOf: s => dimensions.get(`${s.group}\n${s.name}`) ?? null,
    quantity: flags.quantity ?? column,
    unit: read.value.unit,
    shown: shownAs(flags.show ?? forceUnit ?? 'N', read.value.unit),
    warnings: [],
    understood,
    curves: [],
  })
}

export const shownAs = (force: ForceUnit, unit: string): Scale['shown'] =>
  unit === 'N' && force !== 'N' ? { unit: force, per: N_PER[force] } : null

/** Logs and reading documents, read as far as they are not. */
export async function fromFiles(
  files: readonly string[],
  flags: CompareFlags,
  io: Io,
  { keepRecordings }: { readonly keepRecordings: boolean },
): Promise<Outcome<FoundInFiles>> {
  const table = flags.specimens === undefined ? null : await openTableFacts(flags.specimens)
  if (table !== null && !table.ok) return table
  const log = logOptionsFrom(flags)
  if (!log.ok) return log
  const factsOf = factsFrom({
    by: flags.by ?? null,
    table: table?.value ?? null,
    blocksBy: flags.block ?? null,
    isLone: files.length === 1,
  })
  if (!factsOf.ok) return factsOf
  const rig = flags.rig === undefined ? null : await openRig(flags.rig)
  if (rig !== null && !rig.ok) return rig
  const opened = await openReadings(
    files,
    {
      factsOf: factsOf.value,
      log: log.value,
      rig: rig?.value ?? null,
      keepRecordings,
      adjust: flags.adjust ?? [],
    },
    io,
  )
  return opened.ok ? foundIn(opened.value, flags) : opened
}

/** How the logs are to be understood. Problem: a unit that is none; in a table of values any word is one. */
export function logOptionsFrom({ unit, ...rest }: CompareFlags): Outcome<LogOptions> {
  if (unit === undefined) return fine(logOptionsOf(rest))
  const known = parseForceUnit(unit)
  return known === null
    ? wrong({
        where: '--unit',
        what: `“${printable(unit)}” is no unit of force.`,
        cure: 'Give N, kgf, lbf … or counts.',
      })
    : fine(logOptionsOf({ ...rest, unit: known }))
}

function foundIn(opened: readonly OpenedReading[], flags: CompareFlags): Outcome<FoundInFiles> {
  const quantity = flags.quantity ?? 'peakForce'
  const read = opened.map(({ reading, facts }) => specimenOfReading(reading, quantity, facts))
  const scaled = onOneScale(read)
  const units = [...new Set(read.flatMap((r, i) => (scaled.specimens[i]?.value == null ? [] : [r.unit])))]
  if (units.length > 1)
    return wrong({
      where: quantity,
      what: `the readings have it in different units: ${units.join(' and ')}.`,
      cure: 'Compare readings that have the same columns, all with or all without extension.',
    })
  const { unit } = scaled
  const logUnits = [...new Set(opened.map(o => o.reading.recording.forceUnit))].filter(
    one => ownScaleOf(one) === null,
  )
  const own = logUnits.length === 1 ? parseForceUnit(logUnits[0] ?? '') : null
  const byReading = new Map(scaled.specimens.map((specimen, i) => [specimen, opened[i]!.reading]))
  return fine({
    specimens: scaled.specimens,
    dimensionsOf: s => {
      const facts = opened.find(o => o.facts.name === s.name && o.facts.group === s.group)
      const said = facts?.facts.table?.row ?? byReading.get(s)?.specimen ?? facts?.reading.specimen
      return said ? { widthMm: said.widthMm, thicknessMm: said.thicknessMm, lengthMm: said.lengthMm } : null
    },
    quantity,
    unit,
    shown: shownAs(flags.show ?? (own === null || own === 'counts' ? 'N' : own), unit),
    warnings: [
      ...scaled.warnings,
      ...(logUnits.length > 1
        ? [
            {
              code: 'units-differ',
              text: `The logs are in different units (${logUnits.join(', ')}): all were turned into newtons.`,
            },
          ]
        : []),
      ...readingWarnings(opened.map(({ reading }) => reading)),
    ],
    understood: `${opened.length} readings, variants ${flags.by === undefined ? (flags.specimens === undefined ? `by the readings or names like ${DEFAULT_PATTERN}` : 'by the table of specimens') : `by ${flags.by}`}`,
    opened,
    curves: opened.flatMap(({ recording, reading, facts }) =>
      recording === null ? [] : [{ recording, reading, group: facts.group, name: facts.name }],
    ),
  })
}

/** Dimensions that can be taken out of the scatter. */
const DIMENSIONS: Readonly<Record<string, keyof Dimensions>> = {
  width: 'widthMm',
  thickness: 'thicknessMm',
  length: 'lengthMm',
}

export const isDimension = (word: string): boolean => word in DIMENSIONS

/** Dropped ones marked, forces divided by a dimension where asked. */
export function prepared<F extends Found>(
  found: F,
  {
    drop,
    per,
    dimensionDoubt,
    covariate,
  }: Pick<CompareFlags, 'drop' | 'per' | 'dimensionDoubt' | 'covariate'>,
): Outcome<F> {
  const missing = drop.filter(d => !found.specimens.some(s => s.name === d.name))
  if (missing.length > 0) {
    const names = found.specimens.slice(0, 12).map(s => `“${printable(s.name, 30)}”`)
    return wrong(
      ...missing.map(d => ({
        where: '--drop',
        what: `there is no specimen “${printable(d.name)}”.`,
        cure: `The specimens are ${names.join(', ')}${found.specimens.length > 12 ? ' …' : ''}.`,
      })),
    )
  }
  const dimension = DIMENSIONS[covariate ?? '']
  const specimens = found.specimens.map(s => ({
    ...s,
    ...(dimension === undefined || s.covariate !== undefined
      ? {}
      : { covariate: found.dimensionsOf(s)?.[dimension] ?? null }),
    dropped: drop.find(d => d.name === s.name)?.why ?? s.dropped,
  }))
  if (per === undefined) return fine({ ...found, specimens })
  if (found.unit !== 'N')
    return wrong({
      where: '--per',
      what: `only a force can be taken per ${per}, not a value in ${found.unit || 'no unit'}.`,
      cure: 'Compare peakForce, or give --unit.',
    })
  const divided = perDimension(specimens, found.dimensionsOf, { per, doubtMm: dimensionDoubt ?? null })
  return divided.ok
    ? fine({ ...found, specimens: divided.value.specimens, unit: divided.value.unit, shown: null })
    : divided
}
