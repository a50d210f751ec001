import { answerIn } from '../../core/answer/answerOf.ts'
import { counted } from '../../core/counted.ts'
import { ENGINE_VERSION } from '../../core/version.ts'
import { CARE } from '../care.ts'
import type { PublishedStudy } from '../study/study.ts'
import type { Licence } from './licences.ts'

/** Text of a person in Markdown: one line that neither formats nor links, and never is HTML. */
export const plainMarkdown = (text: string): string =>
  text
    .trim()
    .replace(/[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}\s]+/gu, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replace(/[\\`*_[\]|#~!]/g, sign => `\\${sign}`)

const FILES: readonly (readonly [path: string, what: string])[] = [
  ['raw/', 'the recordings as they were received, byte for byte, a folder for each specimen'],
  [
    'clean/',
    'the samples of each specimen, as CSV and as Parquet: time, force in newton, the force with the true zero taken off, and what else was recorded',
  ],
  ['readings/', 'what each recording is taken to mean: zeros, pulls, breaks, peak force and its doubt'],
  ['adjustments/', 'what a person changed in a reading, with the reason'],
  ['comparison.json', 'the variants against one another'],
  ['specimens.csv', 'a row for each specimen, for a spreadsheet'],
  ['rigs/', 'the rigs, each with its calibrations'],
  ['checks.jsonl', 'checks with a known mass before the day’s work'],
  ['plan.json', 'what was planned'],
  ['photos/', 'photos'],
  ['study.json', 'all else: the question, the specimens, and what every figure was made with'],
  [
    'datapackage.json',
    'the list of all files with their sizes, SHA-256 and columns (Frictionless Data Package)',
  ],
]

/** `README.md` of a package, in plain words. `paths` are those of its files. */
export function readmeOf(
  study: PublishedStudy,
  { licence, authors }: { readonly licence: Licence | null; readonly authors: readonly string[] },
  paths: readonly string[],
): string {
  const { name, question, method, comparison, rig } = study
  const read = study.specimens.filter(specimen => specimen.reading !== null).length
  const there = FILES.filter(
    ([path]) => path === 'datapackage.json' || paths.some(one => one === path || one.startsWith(path)),
  )
  const warned = study.specimens.some(
    ({ reading }) => reading?.warnings.some(warning => warning.code === 'not-calibrated') ?? false,
  )
  const blocks = [
    `# ${plainMarkdown(name)}`,
    plainMarkdown(question),
    comparison === null
      ? ''
      : `**${plainMarkdown(answerIn(comparison).headline)}** ${plainMarkdown(comparison.verdict)}`,
    `${counted(study.specimens.length, 'specimen')}, ${read} of them pulled and read. Put together on ${plainMarkdown(study.madeAt.slice(0, 10))} with Tenterhook ${ENGINE_VERSION}.`,
    method.trim() === '' ? '' : `## How it was done\n\n${plainMarkdown(method)}`,
    `## What is in it\n\n${there.map(([path, what]) => `- \`${path}\`: ${what}`).join('\n')}`,
    [
      '## The figures',
      'Forces are in newton. An uncertainty is the half-width of a 95 % interval. A figure that could not be had is empty, never 0.',
      rig === null || warned ? 'The scale of some or all recordings was not checked with known masses.' : '',
      'Texts in the CSV files that a spreadsheet would run as a formula have an apostrophe before them; `study.json` has them as they were written. The files in `raw/` are as received: open them in a spreadsheet only if you trust where they come from.',
    ]
      .filter(Boolean)
      .join('\n\n'),
    filmsText(study),
    [
      '## Check it yourself',
      '`tenterhook verify` with the name of this folder or zip compares every file with its SHA-256 and makes every figure again from the raw recordings. It says which differ. `tenterhook import` takes the study into a store of your own.',
    ].join('\n\n'),
    `## Licence\n\n${licenceText(licence)}`,
    `## How to cite\n\n${citation(study, authors)}`,
    `## Care\n\n${CARE.map(line => `- ${line}`).join('\n')}`,
  ]
  return `${blocks.filter(Boolean).join('\n\n')}\n`
}

function filmsText({ films }: PublishedStudy): string {
  if (films.length === 0) return ''
  const names = films.map(({ sync }) => plainMarkdown(sync.clip.name)).join(', ')
  return `## Films\n\nThe recordings lie in ${counted(films.length, 'film')}: ${names}. The films are not in the package, for their size. \`study.json\` says where each recording lies in them, so that captions and overlay can be made again beside a film of that name.`
}

const licenceText = (licence: Licence | null): string =>
  licence === null
    ? 'None was chosen, so all rights are reserved: ask whoever gave you this before you pass it on or build on it.'
    : `${plainMarkdown(licence.title)} (${licence.name}): <${licence.path}>`

function citation({ name, madeAt }: PublishedStudy, authors: readonly string[]): string {
  const by = authors.length === 0 ? '' : `${authors.map(plainMarkdown).join(', ')}: `
  return `${by}${plainMarkdown(name)}. Data package, ${plainMarkdown(madeAt.slice(0, 10))}.`
}
