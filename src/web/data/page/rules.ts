import type { Problem } from '../../../core/problem.ts'
import type { SpecimenPatch, Study, Variant } from '../../../server/apiTypes.ts'
import { Conflict, Trouble } from '../trouble.ts'

/** What the page's own storage refuses, as the store of the server does. */

const LONGEST_NAME = 200

/** A name without blanks around it. @throws Trouble where nothing is left, or too much */
export function nameFrom(kind: string, given: string): string {
  const name = given.trim()
  if (name !== '' && name.length <= LONGEST_NAME) return name
  throw new Trouble([
    {
      where: `name of the ${kind}`,
      what: name === '' ? 'it is empty.' : `it is longer than ${LONGEST_NAME} letters.`,
      cure: 'Give a short name.',
    },
  ])
}

/** Text that may not be empty, without blanks around it. */
export function textFrom(where: string, given: string): string {
  const text = given.trim()
  if (text === '') throw new Trouble([{ where, what: 'it is empty.', cure: 'Write something first.' }])
  return text
}

export function refuseTaken(
  kind: string,
  name: string,
  all: readonly { readonly id: string; readonly name: string }[],
  ownId?: string,
): void {
  if (all.some(one => one.name === name && one.id !== ownId))
    throw new Trouble([
      {
        where: `${kind} “${name}”`,
        what: `there is a ${kind} of this name already.`,
        cure: 'Choose another name.',
      },
    ])
}

export function refuseStale(
  what: string,
  now: { readonly updatedAt: string },
  basedOn: string | undefined,
): void {
  if (basedOn !== undefined && basedOn !== now.updatedAt) throw changedSince(what)
}

export const changedSince = (what: string): Conflict =>
  new Conflict([
    {
      where: what,
      what: 'it was changed elsewhere after it was opened here, so nothing was written.',
      cure: 'Look at what it is now, then change it again.',
    },
  ])

export const hasRecordings = (where: string, cure: string): Trouble =>
  new Trouble([{ where, what: 'it has recordings, which are never deleted.', cure }])

/** What was given of a patch; a field that is `undefined` was not. */
export const given = <T extends object>(fields: object): T =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as T

/** Into the order at a place, all places counted anew from 0; only what moves has to be written. */
export function putAt<T extends { readonly id: string; readonly place: number }>(
  others: readonly T[],
  one: T,
  place: number,
): { readonly placed: T; readonly moved: readonly T[] } {
  const before = new Map([...others, one].map(each => [each.id, each]))
  const ordered = inPlaces(others)
    .filter(other => other.id !== one.id)
    .toSpliced(place, 0, one)
    .map((each, at) => ({ ...each, place: at }))
  return {
    placed: ordered.find(each => each.id === one.id)!,
    moved: ordered.filter(each => each.id !== one.id && before.get(each.id)?.place !== each.place),
  }
}

export const inPlaces = <T extends { readonly place: number; readonly id: string }>(all: readonly T[]): T[] =>
  [...all].sort((a, b) => a.place - b.place || (a.id < b.id ? -1 : 1))

export const nextPlace = (others: readonly { readonly place: number }[]): number =>
  Math.max(-1, ...others.map(other => other.place)) + 1

/** A variant of another study, or a failure mode that is not on the study's list. */
export function refuseMisfits(
  study: Study,
  variants: readonly Variant[],
  { variantId, failureMode }: SpecimenPatch,
): void {
  const problems: Problem[] = []
  if (variantId != null && !variants.some(({ id }) => id === variantId))
    problems.push({
      where: 'variant',
      what: `the study “${study.name}” has no such variant.`,
      cure: 'Choose one of its variants.',
    })
  if (failureMode != null && !study.failureModes.includes(failureMode))
    problems.push({
      where: 'failure mode',
      what: `“${failureMode}” is not on the list of the study “${study.name}”.`,
      cure: 'Take one of its list, or add it there.',
    })
  if (problems.length > 0) throw new Trouble(problems)
}
