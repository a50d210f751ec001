import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { PackageSource, Sha256 } from '../../publish/package/files.ts'
import { checkFiles, openDescriptor } from '../../publish/package/openDescriptor.ts'
import { readPackage } from '../../publish/package/readPackage.ts'
import { openedLog } from '../../publish/package/recomputed.ts'
import type { PublishedSpecimen, PublishedStudy } from '../../publish/study/study.ts'
import type { Store, Study } from '../../store/index.ts'
import { openRaw } from '../openRaw.ts'
import { importRigs } from './rigs.ts'
import { importNotes, importPhotos } from './sides.ts'
import { importSpecimen, type SpecimenCounts } from './specimen.ts'
import { studyFor } from './studyFor.ts'

export interface ImportedPackage extends SpecimenCounts {
  readonly study: { readonly id: string; readonly name: string; readonly isNew: boolean }
  readonly specimens: number
  readonly rigs: readonly string[]
}

/**
 * Takes a package into the store. Its files are proved against their hashes and every log is opened before anything is
 * added; what is there already is not taken twice and stays as it is. Should it break off, it can be run again.
 */
export async function importPackage(
  store: Store,
  given: PackageSource,
  sha256: Sha256,
  onProgress: (done: number, all: number) => void = () => {},
): Promise<Outcome<ImportedPackage>> {
  const opened = await openDescriptor(given)
  if (!opened.ok) return opened
  const { source, descriptor } = opened.value
  const findings = await checkFiles(source, descriptor, sha256)
  const bad = findings.filter(finding => finding.what !== 'not-listed')
  if (bad.length > 0)
    return wrong(
      ...bad.slice(0, 20).map(({ path, text }) => ({
        where: `${source.name}, ${path}`,
        what: text,
        cure: 'Nothing was taken in. Fetch the package again from where it was published.',
      })),
    )
  const read = await readPackage(source, descriptor)
  if (!read.ok) return read
  const { study: published } = read.value
  const proved = await prove(published)
  if (!proved.ok) return proved
  const study = await studyFor(store, published)
  if (!study.ok) return study
  return takeIn(store, published, study.value, onProgress)
}

/** Every log must open before the first is kept. */
async function prove({ specimens }: PublishedStudy): Promise<Outcome<null>> {
  const problems: Problem[] = []
  for (const { logs } of specimens)
    for (const log of logs) {
      const recording = await openedLog(log, openRaw)
      if (!recording.ok) problems.push(...recording.problems)
    }
  return problems.length > 0 ? wrong(...problems.slice(0, 20)) : fine(null)
}

async function takeIn(
  store: Store,
  published: PublishedStudy,
  { study, isNew }: { readonly study: Study; readonly isNew: boolean },
  onProgress: (done: number, all: number) => void,
): Promise<Outcome<ImportedPackage>> {
  const rigs = await importRigs(store, published)
  if (!rigs.ok) return rigs
  const variants = await importVariants(store, study, published)
  if (!variants.ok) return variants
  const subject = { kind: 'study', id: study.id } as const
  for (const side of [
    await importNotes(store, subject, published.remarks),
    await importPhotos(store, subject, published.photos),
  ])
    if (!side.ok) return side
  let counts: SpecimenCounts = { recordings: 0, known: 0, readings: 0, told: [] }
  for (const [i, specimen] of published.specimens.entries()) {
    onProgress(i, published.specimens.length)
    const taken = await importSpecimen(store, specimen, {
      studyId: study.id,
      variantId: variantId(variants.value, specimen),
      rigId: specimen.readWith.rig === null ? null : rigs.value.idOf(specimen.readWith.rig),
    })
    if (!taken.ok) return taken
    counts = {
      recordings: counts.recordings + taken.value.recordings,
      known: counts.known + taken.value.known,
      readings: counts.readings + taken.value.readings,
      told: [...counts.told, ...taken.value.told],
    }
  }
  return fine({
    study: { id: study.id, name: study.name, isNew },
    specimens: published.specimens.length,
    rigs: rigs.value.names,
    ...counts,
  })
}

const variantId = (ids: ReadonlyMap<string, string>, { variant }: PublishedSpecimen): string | null =>
  variant === null ? null : (ids.get(variant) ?? null)

async function importVariants(
  store: Store,
  { id }: Study,
  { variants, specimens }: PublishedStudy,
): Promise<Outcome<ReadonlyMap<string, string>>> {
  const ids = new Map((await store.variants.list(id)).map(variant => [variant.name, variant.id]))
  const unlisted = specimens.flatMap(({ variant }) =>
    variant === null || variants.some(({ name }) => name === variant)
      ? []
      : [{ name: variant, control: false, note: '' }],
  )
  for (const { name, control, note } of [...variants, ...unlisted]) {
    if (ids.has(name)) continue
    const made = await store.variants.create(id, { name, control, note })
    if (!made.ok) return made
    ids.set(name, made.value.id)
  }
  return fine(ids)
}
