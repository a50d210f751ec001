import { ENGINE_VERSION } from '../../core/version.ts'
import type { PublishedStudy } from '../study/study.ts'
import { STUDY } from './layout.ts'
import type { Licence } from './licences.ts'
import { slug } from './slugs.ts'
import type { TableField } from './specimensTable.ts'

/** A file of the package as the descriptor lists it, before its bytes and hash are known. */
export interface ResourceFacts {
  readonly path: string
  readonly title: string
  /** Fields of a table; a CSV with them is a tabular resource. */
  readonly fields?: readonly TableField[]
}

const KINDS: Readonly<Record<string, readonly [format: string, mediatype: string]>> = {
  csv: ['csv', 'text/csv'],
  tsv: ['tsv', 'text/tab-separated-values'],
  txt: ['txt', 'text/plain'],
  log: ['txt', 'text/plain'],
  md: ['md', 'text/markdown'],
  json: ['json', 'application/json'],
  jsonl: ['jsonl', 'application/x-ndjson'],
  parquet: ['parquet', 'application/vnd.apache.parquet'],
  jpg: ['jpg', 'image/jpeg'],
  png: ['png', 'image/png'],
  webp: ['webp', 'image/webp'],
}

/**
 * A data resource of the Data Package standard, version 1 (https://specs.frictionlessdata.io/data-resource/).
 */
export function resourceOf({ path, title, fields }: ResourceFacts, bytes: number, sha256: string): object {
  const [format, mediatype] = KINDS[/\.([a-z0-9]+)$/.exec(path)?.[1] ?? ''] ?? [
    'bin',
    'application/octet-stream',
  ]
  const table = fields !== undefined && format === 'csv'
  return {
    profile: table ? 'tabular-data-resource' : 'data-resource',
    // No slug holds two hyphens in a row, so that no two paths get one name.
    name: path.toLowerCase().replaceAll('/', '--'),
    path,
    title,
    format,
    mediatype,
    ...(table ? { encoding: 'utf-8' } : {}),
    bytes,
    hash: `sha256:${sha256}`,
    ...(fields === undefined ? {} : { schema: { fields, missingValues: [''] } }),
  }
}

/**
 * `datapackage.json`: a descriptor of the Data Package standard, version 1
 * (https://specs.frictionlessdata.io/data-package/).
 */
export function descriptorOf(
  study: PublishedStudy,
  { licence, authors }: { readonly licence: Licence | null; readonly authors: readonly string[] },
  resources: readonly object[],
): Record<string, unknown> {
  const created = new Date(study.madeAt)
  return {
    profile: 'data-package',
    name: slug(study.name, 'study'),
    title: study.name,
    description: [study.question, study.comparison?.verdict ?? ''].filter(Boolean).join('\n\n'),
    ...(Number.isNaN(created.getTime()) ? {} : { created: created.toISOString() }),
    ...(authors.length === 0
      ? {}
      : { contributors: authors.map(title => ({ title, role: 'author' as const })) }),
    ...(licence === null ? {} : { licenses: [licence] }),
    tenterhook: { engine: ENGINE_VERSION, study: STUDY },
    resources,
  }
}

/**
 * What the hash of the descriptor itself is taken of: all that stands in it, licence, authors and list of
 * files, but for that hash; as JSON without blanks, keys in the order in which they stand.
 */
export function sealedText(descriptor: Record<string, unknown>): string {
  const { tenterhook, ...rest } = descriptor
  const { hash: _, ...own } = tenterhook as Record<string, unknown>
  return JSON.stringify({ ...rest, tenterhook: own })
}
