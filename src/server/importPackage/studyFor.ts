import { fine, type Outcome } from '../../core/problem.ts'
import { filmsFrom, keptFilms, withFilmsOf } from '../../publish/study/films.ts'
import { keptPage } from '../../publish/study/page.ts'
import type { PublishedStudy } from '../../publish/study/study.ts'
import type { Store, Study } from '../../store/index.ts'
import { freeName } from './freeName.ts'

/**
 * The study that a package is of. One that holds all its logs already is it, whatever its name is now; so is one of
 * the same name that shares a specimen's logs and contradicts none, or that an import which broke off has begun and filled
 * with nothing yet. Else it is a new one, also where a study of somebody else has its name.
 */
export async function studyFor(
  store: Store,
  published: PublishedStudy,
): Promise<Outcome<{ study: Study; isNew: boolean }>> {
  const holder = await holderOfAll(store, published)
  const all = await store.studies.list()
  const begun = new RegExp(`^${escaped(published.name)}(?: \\(\\d+\\))?$`, 'u')
  const candidates = [
    ...(holder === null ? [] : all.filter(({ id }) => id === holder)),
    ...all.filter(({ name }) => begun.test(name)),
  ]
  for (const study of candidates) {
    if (study.id !== holder && !(await isOf(store, study, published))) continue
    const widened = await widenedBy(store, study, published)
    return widened.ok ? fine({ study: widened.value, isNew: false }) : widened
  }
  const { question, method, page, films, plan, equivalents, comparedWith } = published
  const per = comparedWith?.per ?? null
  const made = await store.studies.create({
    name: freeName(published.name, new Set(all.map(study => study.name))),
    question,
    method,
    tell: keptPage(page),
    films: films.length > 0 ? keptFilms(films) : null,
    failureModes: modesOf(published),
    quantity: per === 'width' ? 'force-per-width' : per === 'area' ? 'force-per-area' : 'force',
    plannedPerVariant: plan?.perGroup ?? null,
    plan,
    equivalents,
  })
  return made.ok ? fine({ study: made.value, isNew: true }) : made
}

/** What the package knows more of: ways of failing, and films. */
async function widenedBy(store: Store, study: Study, published: PublishedStudy): Promise<Outcome<Study>> {
  const modes = modesOf(published).filter(mode => !study.failureModes.includes(mode))
  const own = filmsFrom(study.films)
  const films = withFilmsOf(own, published.films)
  if (modes.length === 0 && films.length === own.length) return fine(study)
  return store.studies.update(study.id, {
    failureModes: [...study.failureModes, ...modes],
    ...(films.length === own.length ? {} : { films: keptFilms(films) }),
  })
}

const escaped = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&')

const modesOf = ({ specimens }: PublishedStudy): string[] => [
  ...new Set(specimens.map(({ failureMode }) => failureMode).filter(mode => mode !== null)),
]

/** The one study on whose specimens all logs of the package lie, if there is such a one. */
async function holderOfAll(store: Store, { specimens }: PublishedStudy): Promise<string | null> {
  const logs = specimens.flatMap(specimen => specimen.logs)
  let holders: Set<string> | null = null
  for (const { sha256 } of logs) {
    const ids = new Set((await store.recordings.bySha256(sha256)).flatMap(({ study }) => study?.id ?? []))
    const before: Set<string> = holders ?? ids
    holders = new Set([...before].filter(id => ids.has(id)))
    if (holders.size === 0) return null
  }
  const [holder] = holders ?? []
  return holder ?? null
}

async function isOf(store: Store, study: Study, published: PublishedStudy): Promise<boolean> {
  const { specimens, question, method } = published
  let shared = 0
  const own = await store.specimens.list(study.id)
  for (const { id, name } of own) {
    const { items } = await store.recordings.list({ specimenId: id, limit: 1000 })
    if (items.length === 0) continue
    const told = specimens.find(specimen => specimen.name === name && specimen.logs.length > 0)
    if (!told) continue
    const hashes = new Set(items.map(({ sha256 }) => sha256))
    if (!told.logs.every(({ sha256 }) => hashes.has(sha256))) return false
    shared++
  }
  const isBegun = own.length === 0 && study.question === question && study.method === method
  return shared > 0 || (isBegun && (question !== '' || method !== ''))
}
