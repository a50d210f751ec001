import { z } from 'zod'
import { parseDocument } from '../../core/parseDocument.ts'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { sealedText } from './descriptor.ts'
import type { PackageSource, Sha256 } from './files.ts'
import { DESCRIPTOR } from './layout.ts'
import { sameOnAnySystem, unsafePath } from './safePath.ts'

const HASH = /^sha256:([0-9a-f]{64})$/

/** What is asked of a descriptor: more may stand in it, as the standard allows. */
const descriptorSchema = z.object({
  title: z.string().default(''),
  licenses: z
    .array(
      z.object({ name: z.string().optional(), title: z.string().optional(), path: z.string().optional() }),
    )
    .default([]),
  contributors: z.array(z.object({ title: z.string().default('') })).default([]),
  tenterhook: z.object({
    engine: z.string(),
    study: z.string(),
    /** Of the descriptor itself; earlier programs gave none. */
    hash: z.string().regex(HASH, 'the hash must be sha256: and 64 digits').optional(),
  }),
  resources: z
    .array(
      z.object({
        path: z.string(),
        bytes: z.int().min(0),
        hash: z.string().regex(HASH, 'the hash must be sha256: and 64 digits'),
      }),
    )
    .min(1),
})

export type PackageDescriptor = z.infer<typeof descriptorSchema>

/** Longer than any document of a study; a JSON text must fit into a string. */
const MOST_DOCUMENT_BYTES = 256 * 2 ** 20

/** The text of a document of the package. */
export async function textOf(source: PackageSource, path: string): Promise<Outcome<string>> {
  const bytes = await source.bytes(path)
  if (!bytes.ok) return bytes
  if (bytes.value.length > MOST_DOCUMENT_BYTES)
    return wrong({
      where: `${source.name}, ${path}`,
      what: 'is too large for a document.',
      cure: 'It is no package of Tenterhook.',
    })
  return fine(new TextDecoder().decode(bytes.value))
}

/**
 * The descriptor of a package, and the package itself as seen from the folder in which the descriptor lies.
 */
export async function openDescriptor(
  given: PackageSource,
): Promise<Outcome<{ source: PackageSource; descriptor: PackageDescriptor }>> {
  const source = fromItsRoot(given)
  if (source === null)
    return wrong({
      where: given.name,
      what: `there is no ${DESCRIPTOR} in it.`,
      cure: 'Give the folder or the zip that `tenterhook package` wrote.',
    })
  const text = await textOf(source, DESCRIPTOR)
  if (!text.ok) return text
  const where = `${source.name}, ${DESCRIPTOR}`
  if (!/"tenterhook"\s*:/.test(text.value))
    return wrong({
      where,
      what: 'it is a data package, but not one of a Tenterhook study.',
      cure: 'Import its logs one by one.',
    })
  const parsed = parseDocument(text.value, descriptorSchema, { where, schemaFile: 'study.json' })
  if (!parsed.ok) return parsed
  const problems = pathProblems(parsed.value, where)
  return problems.length > 0 ? wrong(...problems) : fine({ source, descriptor: parsed.value })
}

/** A person who packs the folder anew gets a zip with that folder in it. */
function fromItsRoot(given: PackageSource): PackageSource | null {
  if (given.paths.includes(DESCRIPTOR)) return given
  const folders = given.paths
    .filter(path => path.endsWith(`/${DESCRIPTOR}`))
    .map(path => path.slice(0, -DESCRIPTOR.length))
    .filter(folder => folder.indexOf('/') === folder.length - 1)
  const [folder] = folders
  if (folder === undefined || folders.length > 1) return null
  return {
    name: given.name,
    paths: given.paths.filter(path => path.startsWith(folder)).map(path => path.slice(folder.length)),
    bytes: path => given.bytes(folder + path),
  }
}

function pathProblems({ resources, tenterhook }: PackageDescriptor, where: string): Problem[] {
  const seen = new Set<string>()
  return [...resources.map(resource => resource.path), tenterhook.study].flatMap((path, i) => {
    const again = i < resources.length && seen.has(sameOnAnySystem(path))
    seen.add(sameOnAnySystem(path))
    const what = unsafePath(path) ?? (again ? 'is listed twice' : null)
    if (what === null) return []
    return [
      {
        where,
        what: `the path “${printable(path, 80)}” ${what}.`,
        cure: 'The package was not made by Tenterhook or was changed: do not use it.',
      },
    ]
  })
}

/** A file that is not what the descriptor says. */
export interface FileFinding {
  readonly path: string
  readonly what: 'missing' | 'changed' | 'not-listed'
  readonly text: string
}

/** Whether the descriptor's own text (licence, authors, list of files) is that which was published. */
async function sealFinding(source: PackageSource, sha256: Sha256): Promise<FileFinding | null> {
  const text = await textOf(source, DESCRIPTOR)
  if (!text.ok) return null
  const descriptor = JSON.parse(text.value) as Record<string, unknown> & { tenterhook: { hash?: string } }
  const { hash } = descriptor.tenterhook
  if (hash === undefined) return null
  const own = `sha256:${await sha256(new TextEncoder().encode(sealedText(descriptor)))}`
  if (own === hash) return null
  return {
    path: DESCRIPTOR,
    what: 'changed',
    text: 'its title, licence, authors or list of files are not those that were published.',
  }
}

/** Every file against its size and SHA-256; files that the descriptor does not list are findings too. */
export async function checkFiles(
  source: PackageSource,
  { resources }: PackageDescriptor,
  sha256: Sha256,
  onProgress: (done: number, all: number) => void = () => {},
): Promise<FileFinding[]> {
  const findings: FileFinding[] = []
  const there = new Set(source.paths)
  for (const [i, { path, bytes: wanted, hash }] of resources.entries()) {
    onProgress(i, resources.length)
    if (!there.has(path)) {
      findings.push({ path, what: 'missing', text: 'it is listed but not there.' })
      continue
    }
    const bytes = await source.bytes(path)
    if (!bytes.ok) {
      findings.push({ path, what: 'changed', text: bytes.problems.map(problem => problem.what).join(' ') })
      continue
    }
    if (bytes.value.length !== wanted)
      findings.push({
        path,
        what: 'changed',
        text: `it holds ${bytes.value.length} bytes; ${wanted} were published.`,
      })
    else if (`sha256:${await sha256(bytes.value)}` !== hash)
      findings.push({ path, what: 'changed', text: 'its bytes are not those that were published.' })
  }
  const sealed = await sealFinding(source, sha256)
  if (sealed) findings.push(sealed)
  const listed = new Set([...resources.map(resource => resource.path), DESCRIPTOR])
  for (const path of source.paths)
    if (!listed.has(path))
      findings.push({ path, what: 'not-listed', text: 'it is there, but the package does not list it.' })
  return findings
}
