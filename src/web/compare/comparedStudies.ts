import type { ComparedStudy } from '../../core/statistics/compare/compareStudy.ts'
import { isPractice } from '../../core/study.ts'
import type { OpenStudy } from '../data/backend.ts'
import { texts } from '../texts/index.ts'

/** A specimen of a comparison, by the names that it has there. */
export interface Compared {
  readonly id: string
  readonly studyId: string
  readonly group: string
  readonly name: string
  /** Of the specimen, as it is seen: a change of it names it. */
  readonly updatedAt: string
}

export const NO_VARIANT = 'no variant'

/** A name of a variant; with the study's before it where several studies are compared. */
const groupName = (study: string, variant: string, several: boolean): string =>
  several ? `${study}: ${variant}` : variant

/**
 * One or several studies as what is compared. The first gives what a force is divided by. `without`: specimens, by id,
 * that are left out to see what changes; nothing of it is kept.
 */
export function comparedStudies(
  opens: readonly OpenStudy[],
  without: ReadonlySet<string>,
  whyWithout: string,
): ComparedStudy {
  const several = opens.length > 1
  const [first] = opens
  return {
    study: {
      quantity: first?.study.quantity ?? 'force',
      ...(several || first === undefined ? {} : { plan: first.study.plan }),
    },
    variants: opens.flatMap(({ study, variants }) =>
      variants.map(variant => ({ ...variant, name: groupName(study.name, variant.name, several) })),
    ),
    specimens: opens.flatMap(({ specimens }) =>
      specimens.map(specimen => ({
        ...specimen,
        ...(without.has(specimen.id) ? { status: 'left-out' as const, statusReason: whyWithout } : {}),
      })),
    ),
    readings: opens.flatMap(open => open.readings),
    pulledAt: new Map(opens.flatMap(pulledAt)),
    practice: new Set(
      opens.flatMap(({ recordings }) =>
        recordings.flatMap(one =>
          one.specimen && one.setAside === null && isPractice(one) ? [one.specimen.id] : [],
        ),
      ),
    ),
    unread: opens.flatMap(unreadOf),
  }
}

/** Specimens that were recorded and have no reading: why, their page under Read says. */
function unreadOf({ specimens, recordings, readings }: OpenStudy): NonNullable<ComparedStudy['unread']> {
  const recorded = new Set(
    recordings.flatMap(({ specimen, setAside }) => (specimen && setAside === null ? [specimen.id] : [])),
  )
  const read = new Set(readings.map(({ specimenId }) => specimenId))
  return specimens
    .filter(({ id }) => recorded.has(id) && !read.has(id))
    .map(({ name }) => ({ name, problem: { where: name, ...texts.compare.unread } }))
}

/** When each specimen was pulled, as far as it is known: when its first recording was begun. */
function pulledAt({ recordings }: OpenStudy): [string, string][] {
  const first = new Map<string, string | null>()
  for (const { specimen, startedAt } of [...recordings].sort((a, b) => a.place - b.place))
    if (specimen && !first.has(specimen.id)) first.set(specimen.id, startedAt)
  return [...first].flatMap(([id, at]): [string, string][] => (at === null ? [] : [[id, at]]))
}

/** Every specimen under the names that a comparison gives it. */
export function namesOf(opens: readonly OpenStudy[]): Compared[] {
  const several = opens.length > 1
  return opens.flatMap(({ study, variants, specimens }) =>
    specimens.map(({ id, name, variantId, updatedAt }) => {
      const variant = variants.find(one => one.id === variantId)?.name ?? NO_VARIANT
      return { id, studyId: study.id, name, group: groupName(study.name, variant, several), updatedAt }
    }),
  )
}

export const keyOf = ({ group, name }: Pick<Compared, 'group' | 'name'>): string =>
  JSON.stringify([group, name])
