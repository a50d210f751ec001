import type { z } from 'zod'
import { parseChecks } from '../../core/calibration/checkDocument.ts'
import { parseRig, type Rig } from '../../core/calibration/rig.ts'
import { parseDocument } from '../../core/parseDocument.ts'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { parseAdjustments } from '../../core/reading/adjustmentDocument.ts'
import { type Reading, storedReadingSchema } from '../../core/reading/document.ts'
import { anyComparisonSchema } from '../../core/statistics/comparisonVersions.ts'
import { planSchema } from '../../core/statistics/plan/document.ts'
import { parseForceUnit } from '../../core/units/force.ts'
import { pageFrom } from '../study/page.ts'
import type { PublishedPhoto, PublishedSpecimen, PublishedStudy } from '../study/study.ts'
import { PackageFault, type PackageSource } from './files.ts'
import { type PackageDescriptor, textOf } from './openDescriptor.ts'
import { type StudyDocument, type StudySpecimen, studyDocumentSchema } from './studyDocument.ts'

/** What a package tells. */
export interface ReadPackage {
  /**
   * As it was published; recordings are `null` until the logs are opened, whose bytes are read when asked
   * for.
   */
  readonly study: PublishedStudy
  readonly document: StudyDocument
}

/**
 * The study of a package, its documents checked against their schemas. `source` is the package from the
 * folder of its descriptor, as `openDescriptor` gives it. Whether its files are those that were published is
 * asked by `checkFiles`.
 */
export async function readPackage(
  source: PackageSource,
  { tenterhook }: PackageDescriptor,
): Promise<Outcome<ReadPackage>> {
  const parts = partsOf(source)
  const document = await parts.document(tenterhook.study, studyDocumentSchema, 'study.json')
  if (!document.ok) return document
  const { value: told } = document
  const stray = pathsOf(told).filter(path => !source.paths.includes(path))
  if (stray.length > 0)
    return wrong(
      ...stray.slice(0, 20).map(path => ({
        where: `${source.name}, ${tenterhook.study}`,
        what: `it names “${printable(path, 80)}”, which the package does not hold.`,
        cure: 'The package is not whole: fetch it again.',
      })),
    )
  const rigs = new Map<string, Rig>()
  const problems: Problem[] = []
  for (const path of new Set([told.rig, ...told.specimens.map(specimen => specimen.readWith.rig)])) {
    if (path === null) continue
    const text = await textOf(source, path)
    const rig = text.ok ? parseRig(text.value, `${source.name}, ${path}`) : text
    if (rig.ok) rigs.set(path, rig.value)
    else problems.push(...rig.problems)
  }
  const specimens: PublishedSpecimen[] = []
  for (const specimen of told.specimens) {
    const read = await specimenOf(specimen, parts, rigs)
    if (read.ok) specimens.push(read.value)
    else problems.push(...read.problems)
  }
  const checksText = told.checks === null ? fine('') : await textOf(source, told.checks)
  const checks = checksText.ok ? parseChecks(checksText.value, `${source.name}, ${told.checks}`) : checksText
  const plan = told.plan === null ? fine(null) : await parts.document(told.plan, planSchema, 'plan.json')
  const comparison =
    told.comparison === null
      ? fine(null)
      : await parts.document(told.comparison.path, anyComparisonSchema, 'comparison.json')
  for (const part of [checks, plan, comparison]) if (!part.ok) problems.push(...part.problems)
  if (problems.length > 0 || !checks.ok || !plan.ok || !comparison.ok) return wrong(...problems)
  const { comparison: compared } = told
  const unit = parseForceUnit(told.forceUnit)
  return fine({
    document: told,
    study: {
      name: told.name,
      question: told.question,
      method: told.method,
      quantity: told.quantity,
      forceUnit: unit === null || unit === 'counts' ? 'N' : unit,
      variants: told.variants,
      specimens,
      rig: told.rig === null ? null : (rigs.get(told.rig) ?? null),
      checks: checks.value.checks,
      plan: plan.value,
      comparison: comparison.value,
      comparedWith: compared && {
        per: compared.per,
        dimensionDoubtMm: compared.dimensionDoubtMm,
        shown: compared.shown,
        worthShare: compared.worthShare,
        seed: compared.seed,
        warnings: compared.warnings,
      },
      notCompared: told.notCompared,
      remarks: told.remarks,
      photos: photosOf(told.photos, source),
      equivalents: told.equivalents,
      page: pageFrom(told.page),
      films: told.films,
      madeAt: told.madeAt,
    },
  })
}

/** Ways to have the parts of a package. */
interface Parts {
  readonly source: PackageSource
  document<S extends z.ZodType>(path: string, schema: S, schemaFile: string): Promise<Outcome<z.infer<S>>>
}

const partsOf = (source: PackageSource): Parts => ({
  source,
  async document(path, schema, schemaFile) {
    const text = await textOf(source, path)
    return text.ok
      ? parseDocument(text.value, schema, { where: `${source.name}, ${path}`, schemaFile })
      : text
  },
})

async function specimenOf(
  told: StudySpecimen,
  { source, document }: Parts,
  rigs: ReadonlyMap<string, Rig>,
): Promise<Outcome<PublishedSpecimen>> {
  const reading: Outcome<Reading | null> =
    told.reading === null ? fine(null) : await document(told.reading, storedReadingSchema, 'reading.json')
  if (!reading.ok) return reading
  if (told.adjustments !== null) {
    const text = await textOf(source, told.adjustments)
    const adjustments = text.ok ? parseAdjustments(text.value, `${source.name}, ${told.adjustments}`) : text
    if (!adjustments.ok) return adjustments
    if (JSON.stringify(adjustments.value) !== JSON.stringify(reading.value?.adjustments ?? []))
      return wrong({
        where: `${source.name}, ${told.adjustments}`,
        what: `its adjustments are not those of ${told.reading ?? 'any reading'}.`,
        cure: 'The package was changed: fetch it again.',
      })
  }
  const { readWith, clean: _clean, adjustments: _adjustments, ...facts } = told
  return fine({
    ...facts,
    photos: photosOf(told.photos, source),
    logs: told.logs.map(({ path, bytes: byteLength, ...log }) => ({
      ...log,
      byteLength,
      bytes: () => bytesOf(source, path),
    })),
    recording: null,
    reading: reading.value,
    readWith: { ...readWith, rig: readWith.rig === null ? null : (rigs.get(readWith.rig) ?? null) },
  })
}

const photosOf = (photos: StudyDocument['photos'], source: PackageSource): PublishedPhoto[] =>
  photos.map(({ path, ...photo }) => ({ ...photo, bytes: () => bytesOf(source, path) }))

async function bytesOf(source: PackageSource, path: string): Promise<Uint8Array> {
  const bytes = await source.bytes(path)
  if (bytes.ok) return bytes.value
  const [problem] = bytes.problems
  throw new PackageFault(
    problem ?? { where: `${source.name}, ${path}`, what: 'it cannot be read.', cure: 'Fetch it again.' },
  )
}

/** Every file that a study document names. */
function pathsOf({ rig, checks, plan, comparison, photos, specimens }: StudyDocument): string[] {
  const all = [
    rig,
    checks,
    plan,
    comparison?.path ?? null,
    ...photos.map(photo => photo.path),
    ...specimens.flatMap(specimen => [
      specimen.readWith.rig,
      specimen.reading,
      specimen.adjustments,
      specimen.clean?.csv ?? null,
      specimen.clean?.parquet ?? null,
      ...specimen.logs.map(log => log.path),
      ...specimen.photos.map(photo => photo.path),
    ]),
  ]
  return [...new Set(all.filter(path => path !== null))]
}
