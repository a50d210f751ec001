import type { Recording } from '../../core/recording.ts'
import { writtenUnitOf } from '../../core/units/force.ts'
import { writeCsv, writeParquet } from '../../logs/index.ts'
import { writtenColumns } from '../../logs/write/columns.ts'
import { safeCell } from '../../logs/write/safeCell.ts'
import type { PublishedSpecimen, PublishedStudy } from '../study/study.ts'
import { cleaned } from './cleaned.ts'
import { descriptorOf, type ResourceFacts, resourceOf, sealedText } from './descriptor.ts'
import { joinedBytes, PackageFault, type PackageFile, type Sha256 } from './files.ts'
import {
  CHECKS,
  COMPARISON,
  DESCRIPTOR,
  layoutOf,
  PLAN,
  README,
  SPECIMENS,
  type SpecimenPaths,
  STUDY,
} from './layout.ts'
import type { Licence } from './licences.ts'
import { readmeOf } from './readme.ts'
import { specimensFields, specimensTable, type TableField } from './specimensTable.ts'
import { toDocument } from './toDocument.ts'

export interface PackageOptions {
  /** `null`: none was chosen, and the package says so. */
  readonly licence: Licence | null
  /** For the descriptor and the citation. */
  readonly authors: readonly string[]
  readonly sha256: Sha256
}

/** A file before it is made: the paths of all are known first, the bytes are made one file at a time. */
interface Planned extends ResourceFacts {
  readonly make: () => Promise<Uint8Array>
}

/**
 * The files of a study's data package, the descriptor last. The same study and options give the same bytes.
 * Memory holds one file at a time besides the study. @throws PackageFault where a log is not what its hash
 * says
 */
export async function* packageFiles(
  study: PublishedStudy,
  options: PackageOptions,
): AsyncGenerator<PackageFile> {
  const planned = plannedFiles(study, options)
  const paths = planned.map(({ path }) => path)
  const readme: Planned = {
    path: README,
    title: 'Read this first',
    make: text(() => readmeOf(study, options, paths)),
  }
  const resources: object[] = []
  for (const file of [readme, ...planned]) {
    const bytes = await file.make()
    resources.push(resourceOf(file, bytes.length, await options.sha256(bytes)))
    yield { path: file.path, bytes }
  }
  const descriptor = descriptorOf(study, options, resources)
  const hash = `sha256:${await options.sha256(encoded(sealedText(descriptor)))}`
  const sealed = { ...descriptor, tenterhook: { ...(descriptor.tenterhook as object), hash } }
  yield { path: DESCRIPTOR, bytes: encoded(jsonText(sealed)) }
}

/** How many files come, for a measure of progress. */
export const packageLength = (study: PublishedStudy, options: PackageOptions): number =>
  plannedFiles(study, options).length + 2

/** The files that carry figures made from the raw data, with the function that makes each. */
export const figureFiles = (
  study: PublishedStudy,
): readonly { readonly path: string; readonly make: () => Promise<Uint8Array> }[] => {
  const layout = layoutOf(study)
  return [
    specimensFile(study),
    ...comparisonFile(study),
    ...study.specimens.flatMap((specimen, i) => figuresOf(specimen, layout.specimens[i]!)),
  ]
}

function plannedFiles(study: PublishedStudy, { sha256 }: PackageOptions): Planned[] {
  const layout = layoutOf(study)
  const { plan, checks } = study
  return [
    {
      path: STUDY,
      title: 'The study: its question, its specimens, and what every figure was made with',
      make: json(() => toDocument(study, layout)),
    },
    specimensFile(study),
    ...comparisonFile(study),
    ...(plan === null ? [] : [{ path: PLAN, title: 'The plan', make: json(() => plan) }]),
    ...layout.rigs.map(({ rig, path }) => ({
      path,
      title: `Rig ${rig.name} with its calibrations`,
      make: json(() => rig),
    })),
    ...(checks.length === 0
      ? []
      : [
          {
            path: CHECKS,
            title: 'Checks with a known mass',
            make: text(() => checks.map(check => `${JSON.stringify(check)}\n`).join('')),
          },
        ]),
    ...study.photos.map((photo, i) => ({
      path: layout.photos[i]!,
      title: photo.caption || photo.name,
      make: photo.bytes,
    })),
    ...study.specimens.flatMap((specimen, i) => specimenFiles(specimen, layout.specimens[i]!, sha256)),
  ]
}

const specimensFile = (study: PublishedStudy): Planned => ({
  path: SPECIMENS,
  title: 'Specimens',
  fields: specimensFields(),
  make: text(() => specimensTable(study.specimens)),
})

const comparisonFile = ({ comparison }: PublishedStudy): Planned[] =>
  comparison === null
    ? []
    : [
        {
          path: COMPARISON,
          title: 'The variants against one another',
          make: json(() => comparison),
        },
      ]

function specimenFiles(specimen: PublishedSpecimen, paths: SpecimenPaths, sha256: Sha256): Planned[] {
  const { name, reading, logs, photos } = specimen
  const adjustments = reading?.adjustments ?? []
  return [
    ...logs.map((log, i) => ({
      path: paths.logs[i]!,
      title: `${name}: ${log.name} as received`,
      make: async () => {
        const bytes = await log.bytes()
        if ((await sha256(bytes)) !== log.sha256)
          throw new PackageFault({
            where: `${name}, ${log.name}`,
            what: 'its bytes are no longer those that were received.',
            cure: 'Run `tenterhook verify`, and restore a backup or the file.',
          })
        return bytes
      },
    })),
    ...figuresOf(specimen, paths),
    ...(adjustments.length === 0
      ? []
      : [
          {
            path: paths.adjustments,
            title: `${name}: what a person changed in its reading`,
            make: json(() => ({ document: 'tenterhook.adjustments', version: 1, adjustments })),
          },
        ]),
    ...photos.map((photo, i) => ({
      path: paths.photos[i]!,
      title: photo.caption || `${name}: ${photo.name}`,
      make: photo.bytes,
    })),
  ]
}

function figuresOf({ name, recording, reading }: PublishedSpecimen, paths: SpecimenPaths): Planned[] {
  const files: Planned[] = []
  if (recording !== null) {
    const samples = cleaned(recording, reading)
    const title = `${name}: samples as they were read`
    files.push({
      path: paths.csv,
      title,
      fields: fieldsOf(samples, safeCell),
      make: async () => encodedPieces(writeCsv(samples)),
    })
    files.push({
      path: paths.parquet,
      title,
      fields: fieldsOf(samples, column => column),
      make: () => writeParquet(samples),
    })
  }
  if (reading !== null)
    files.push({ path: paths.reading, title: `${name}: its reading`, make: json(() => reading) })
  return files
}

function fieldsOf(recording: Recording, asWritten: (name: string) => string): TableField[] {
  const units = ['s', writtenUnitOf(recording.forceUnit), ...recording.channels.map(c => c.unit)]
  return writtenColumns(recording).map(({ name }, i) => ({
    name: asWritten(name),
    type: 'number',
    ...(units[i] ? { unit: units[i] } : {}),
  }))
}

const jsonText = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`
const encoded = (content: string): Uint8Array => new TextEncoder().encode(content)

/** Piece by piece: the text of a long recording is longer than a string may be. */
function encodedPieces(pieces: Iterable<string>): Uint8Array {
  return joinedBytes(Array.from(pieces, encoded))
}

const text = (make: () => string) => async (): Promise<Uint8Array> => encoded(make())
const json = (make: () => unknown) => async (): Promise<Uint8Array> => encoded(jsonText(make()))
