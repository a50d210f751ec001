import { fine, type Outcome, type Problem } from '../../core/problem.ts'
import { ENGINE_VERSION } from '../../core/version.ts'
import {
  type Columns,
  type Compared,
  columnDifferences,
  csvDifferences,
  type Difference,
  jsonDifferences,
} from './differences.ts'
import type { PackageSource, Sha256 } from './files.ts'
import { DESCRIPTOR } from './layout.ts'
import { checkFiles, type FileFinding, openDescriptor } from './openDescriptor.ts'
import { figureFiles } from './packageFiles.ts'
import { readPackage } from './readPackage.ts'
import { type OpenRaw, recomputed } from './recomputed.ts'

export interface Verified {
  readonly name: string
  readonly study: string
  readonly specimens: number
  readonly logs: number
  /** Version of the engine that made the package, and of this one. */
  readonly engine: { readonly published: string; readonly own: string }
  /** SHA-256 of the descriptor, which holds those of all other files. */
  readonly fingerprint: string
  readonly files: number
  readonly fileFindings: readonly FileFinding[]
  readonly figures: number
  readonly differences: readonly Difference[]
  /** Why a figure could not be made again. */
  readonly notMade: readonly Problem[]
}

export const isSound = ({ fileFindings, differences, notMade }: Verified): boolean =>
  fileFindings.length + differences.length + notMade.length === 0

/**
 * A package against its own raw data: every file against its hash, every reading, sample and the comparison
 * made again from the logs as received. Problem: it is no package, or its documents are not what their
 * schemas say.
 */
export async function verifyPackage(
  given: PackageSource,
  sha256: Sha256,
  openRaw: OpenRaw,
  onProgress: (done: number, all: number) => void = () => {},
): Promise<Outcome<Verified>> {
  const opened = await openDescriptor(given)
  if (!opened.ok) return opened
  const { source, descriptor } = opened.value
  const descriptorBytes = await source.bytes(DESCRIPTOR)
  if (!descriptorBytes.ok) return descriptorBytes
  const all = 2 * descriptor.resources.length
  const fileFindings = await checkFiles(source, descriptor, sha256, done => onProgress(done, all))
  const read = await readPackage(source, descriptor)
  if (!read.ok) return read
  const { study: published, document } = read.value
  const again = await recomputed(published, document, openRaw, (done, of) =>
    onProgress(descriptor.resources.length * (1 + done / of), all),
  )
  const differences: Difference[] = []
  let figures = 0
  for (const { path, make } of figureFiles(again.study)) {
    const compared = await comparedFile(source, path, await make())
    figures += compared.figures
    differences.push(...compared.differences)
  }
  const { specimens } = published
  return fine({
    name: source.name,
    study: published.name,
    specimens: specimens.length,
    logs: specimens.reduce((n, specimen) => n + specimen.logs.length, 0),
    engine: { published: document.engine, own: ENGINE_VERSION },
    fingerprint: await sha256(descriptorBytes.value),
    files: descriptor.resources.length,
    fileFindings,
    figures,
    differences,
    notMade: again.problems,
  })
}

async function comparedFile(source: PackageSource, path: string, again: Uint8Array): Promise<Compared> {
  const there = source.paths.includes(path) ? await source.bytes(path) : null
  if (!there?.ok) return unlike(path, 'not there', 'made from the raw data')
  const published = there.value
  if (path.endsWith('.parquet')) {
    const [a, b] = [await columnsOf(published), await columnsOf(again)]
    return a === null || b === null
      ? unlike(path, 'no Parquet file', 'a Parquet file')
      : columnDifferences(path, a, b)
  }
  const [a, b] = [published, again].map(bytes => new TextDecoder().decode(bytes)) as [string, string]
  if (path.endsWith('.csv')) return csvDifferences(path, a, b)
  try {
    return jsonDifferences(path, JSON.parse(a), JSON.parse(b))
  } catch {
    return unlike(path, 'no JSON', 'JSON')
  }
}

const unlike = (file: string, published: string, recomputed: string): Compared => ({
  figures: 1,
  differences: [{ file, field: 'file', published, recomputed, by: null }],
})

async function columnsOf(bytes: Uint8Array): Promise<Columns | null> {
  const { parquetRead } = await import('hyparquet')
  const columns = new Map<string, Float64Array>()
  try {
    await parquetRead({
      file: bytes.slice().buffer,
      onChunk: ({ columnName, columnData, rowStart }) => {
        const values = Float64Array.from(columnData as ArrayLike<number>)
        const before = columns.get(columnName)
        const whole = new Float64Array(Math.max(before?.length ?? 0, rowStart + values.length))
        if (before) whole.set(before)
        whole.set(values, rowStart)
        columns.set(columnName, whole)
      },
    })
  } catch {
    return null
  }
  return columns
}
