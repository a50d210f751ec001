import type { PageBlock } from './page.ts'
import type { PublishedSpecimen, PublishedStudy, Remark } from './study.ts'

/**
 * The study with the names of people reduced to initials: operators of specimens and of notes, blocks of a comparison
 * by operator, and who made an adjustment. The same names where they stand in the words of a note, a question or a
 * caption are reduced too, as whole words. Two people with the same initials stay two: the second is `A. L. 2`.
 * Names of specimens, variants, logs and rigs are not those of people and stay.
 */
export function withInitials(study: PublishedStudy): PublishedStudy {
  const people = peopleWithInitials(peopleOf(study))
  const text = inText(people)
  const person = (name: string): string => people.get(samePerson(name))?.initials ?? initialsOf(name)
  const remark = (one: Remark): Remark => ({ ...one, text: text(one.text), operator: person(one.operator) })
  const specimen = (one: PublishedSpecimen): PublishedSpecimen => ({
    ...one,
    operator: person(one.operator),
    note: text(one.note),
    statusReason: text(one.statusReason),
    remarks: one.remarks.map(remark),
    photos: one.photos.map(photo => ({ ...photo, caption: text(photo.caption) })),
    setAside: one.setAside.map(log => ({ ...log, why: text(log.why) })),
    reading: one.reading === null ? null : readingWith(one.reading, { text, person }),
  })
  const { comparison } = study
  return {
    ...study,
    question: text(study.question),
    method: text(study.method),
    remarks: study.remarks.map(remark),
    photos: study.photos.map(photo => ({ ...photo, caption: text(photo.caption) })),
    variants: study.variants.map(variant => ({ ...variant, note: text(variant.note) })),
    specimens: study.specimens.map(specimen),
    comparison: comparison === null ? null : comparisonWith(comparison, text),
    page: { ...study.page, blocks: study.page.blocks.map(block => pageBlockWith(block, text)) },
  }
}

const pageBlockWith = (block: PageBlock, text: (given: string) => string): PageBlock =>
  block.kind === 'own'
    ? { ...block, heading: text(block.heading), words: text(block.words) }
    : { ...block, words: text(block.words) }

type Reading = NonNullable<PublishedSpecimen['reading']>
type Comparison = NonNullable<PublishedStudy['comparison']>

/** `Ada Lindner` → `A. L.`; what has no letters stays. */
export function initialsOf(name: string): string {
  const words = name.split(/[\s.,;]+/u).filter(word => /\p{L}/u.test(word))
  const letters = words.map(word => word.split('-').map(firstLetter).filter(Boolean).join('-'))
  return words.length === 0 ? name : letters.map(letter => `${letter}.`).join(' ')
}

const firstLetter = (word: string): string => /\p{L}\p{M}*/u.exec(word)?.[0].toUpperCase() ?? ''

/** Names as they were typed, in the order in which they are met. */
function peopleOf({ specimens, remarks }: PublishedStudy): string[] {
  const said = [
    ...remarks.map(one => one.operator),
    ...specimens.flatMap(one => [
      one.operator,
      ...one.remarks.map(remark => remark.operator),
      ...(one.reading?.adjustments ?? []).map(adjustment => adjustment.who),
    ]),
  ]
  return said.map(name => name.trim()).filter(name => /\p{L}/u.test(name))
}

interface Person {
  readonly name: string
  /** Theirs alone in this study. */
  readonly initials: string
  /** What stands behind initials that others have too: ` 2`, else nothing. */
  readonly number: string
}

/** The same for a name typed with other capitals or more spaces. */
const samePerson = (name: string): string => name.trim().replace(/\s+/gu, ' ').toLowerCase()

/** Those who typed initials keep them, so that reducing what is reduced changes nothing. */
function peopleWithInitials(names: readonly string[]): ReadonlyMap<string, Person> {
  const people = new Map<string, Person>()
  const times = new Map<string, number>()
  const typedFirst = [...names].sort((a, b) => Number(initialsOf(b) === b) - Number(initialsOf(a) === a))
  for (const name of typedFirst) {
    if (people.has(samePerson(name))) continue
    const initials = initialsOf(name)
    const n = (times.get(initials) ?? 0) + 1
    times.set(initials, n)
    const number = n === 1 ? '' : ` ${n}`
    people.set(samePerson(name), { name, initials: `${initials}${number}`, number })
  }
  return people
}

/**
 * Puts initials for the whole names, and for parts of them of three letters or more, where they stand as words. A part
 * that only one person has carries that person's number.
 */
function inText(people: ReadonlyMap<string, Person>): (text: string) => string {
  const reduced = new Map<string, string>()
  for (const { name, number } of people.values())
    for (const part of name.split(/\s+/u).filter(word => word.length >= 3)) {
      const shared = reduced.has(samePerson(part))
      reduced.set(samePerson(part), `${initialsOf(part)}${shared ? '' : number}`)
    }
  for (const { name, initials } of people.values()) reduced.set(samePerson(name), initials)
  if (reduced.size === 0) return text => text
  const longestFirst = [...reduced.keys()].sort((a, b) => b.length - a.length)
  const any = longestFirst
    .map(part => part.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&').replaceAll(' ', '\\s+'))
    .join('|')
  const names = new RegExp(`(?<![\\p{L}\\p{N}])(?:${any})(?![\\p{L}\\p{N}])`, 'giu')
  return text => text.replace(names, found => reduced.get(samePerson(found)) ?? initialsOf(found))
}

interface Reduce {
  readonly text: (given: string) => string
  readonly person: (name: string) => string
}

const readingWith = (reading: Reading, { text, person }: Reduce): Reading => ({
  ...reading,
  specimen:
    reading.specimen === null
      ? null
      : { ...reading.specimen, note: reading.specimen.note === null ? null : text(reading.specimen.note) },
  ...(reading.adjustments === undefined
    ? {}
    : {
        adjustments: reading.adjustments.map(one => ({ ...one, who: person(one.who), why: text(one.why) })),
      }),
})

/** A comparison in blocks of operators names them in its blocks, its verdict and its warnings. */
const comparisonWith = (comparison: Comparison, text: (given: string) => string): Comparison => ({
  ...comparison,
  verdict: text(comparison.verdict),
  inStatistics: text(comparison.inStatistics),
  notShown: comparison.notShown === null ? null : text(comparison.notShown),
  warnings: comparison.warnings.map(one => ({ ...one, text: text(one.text) })),
  specimens: comparison.specimens.map(one => ({
    ...one,
    block: one.block === null ? null : text(one.block),
    dropped: one.dropped === null ? null : text(one.dropped),
  })),
  groups: comparison.groups.map(group => ({
    ...group,
    dropped: group.dropped.map(one => ({ ...one, why: text(one.why) })),
  })),
  blocks:
    comparison.blocks?.control == null
      ? comparison.blocks
      : {
          ...comparison.blocks,
          control: {
            ...comparison.blocks.control,
            means: comparison.blocks.control.means.map(mean => ({ ...mean, block: text(mean.block) })),
          },
        },
})
