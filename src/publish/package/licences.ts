import { fine, type Outcome, wrong } from '../../core/problem.ts'

/** A licence as the descriptor names it. */
export interface Licence {
  /** SPDX identifier. */
  readonly name: string
  readonly title: string
  readonly path: string
}

/** Those that suit data, with the SPDX list's identifiers and titles (https://spdx.org/licenses). */
export const LICENCES: readonly Licence[] = [
  {
    name: 'CC0-1.0',
    title: 'Creative Commons Zero v1.0 Universal',
    path: 'https://creativecommons.org/publicdomain/zero/1.0/legalcode',
  },
  {
    name: 'CC-BY-4.0',
    title: 'Creative Commons Attribution 4.0 International',
    path: 'https://creativecommons.org/licenses/by/4.0/legalcode',
  },
  {
    name: 'CC-BY-SA-4.0',
    title: 'Creative Commons Attribution Share Alike 4.0 International',
    path: 'https://creativecommons.org/licenses/by-sa/4.0/legalcode',
  },
  {
    name: 'CC-BY-NC-4.0',
    title: 'Creative Commons Attribution Non Commercial 4.0 International',
    path: 'https://creativecommons.org/licenses/by-nc/4.0/legalcode',
  },
  {
    name: 'ODC-By-1.0',
    title: 'Open Data Commons Attribution License v1.0',
    path: 'https://opendatacommons.org/licenses/by/1-0/',
  },
  {
    name: 'ODbL-1.0',
    title: 'Open Data Commons Open Database License v1.0',
    path: 'https://opendatacommons.org/licenses/odbl/1-0/',
  },
  {
    name: 'PDDL-1.0',
    title: 'Open Data Commons Public Domain Dedication & License 1.0',
    path: 'https://opendatacommons.org/licenses/pddl/1-0/',
  },
]

/** The licence of a word: an identifier of the list in any case, `none`, or `NAME=https://…` for another. */
export function licenceOf(word: string): Outcome<Licence | null> {
  if (/^none$/i.test(word.trim())) return fine(null)
  const known = LICENCES.find(licence => licence.name.toLowerCase() === word.trim().toLowerCase())
  if (known) return fine(known)
  const own = /^([-A-Za-z0-9._]+)=(https?:\/\/[^\s"<>]+)$/.exec(word.trim())
  const [, name, path] = own ?? []
  if (name !== undefined && path !== undefined && URL.canParse(path) && !path.includes('..'))
    return fine({ name, title: name, path })
  return wrong({
    where: 'licence',
    what: `“${word}” is not known.`,
    cure: `Give ${LICENCES.map(licence => licence.name).join(', ')}, none, or another as NAME=https://its-text.`,
  })
}
