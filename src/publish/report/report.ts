import { list } from '../../core/statistics/compare/words.ts'
import { ENGINE_VERSION } from '../../core/version.ts'
import { CARE } from '../care.ts'
import { type PageBlock, type SectionName, withParts } from '../study/page.ts'
import type { PublishedStudy } from '../study/study.ts'
import { answerSection, equivalentsSection, figuresSection } from './answer.ts'
import type { Report, Section } from './block.ts'
import { methodSection, paragraphs, rigSection } from './rig.ts'
import { adjustedSection, remarkText, specimensSection, spoiledSection } from './specimens.ts'

/**
 * The report of a study: question, answer, figures, method, rig, every specimen with its curve and its ledger, what was
 * adjusted, spoiled and left out, care, and how to cite. Plain data; `reportHtml` and `reportMarkdown` make documents of
 * it. It is put together as the study's page says; `sections`: these parts alone, in this order.
 */
export function reportOf(study: PublishedStudy, sections?: readonly SectionName[]): Report {
  const page = sections === undefined ? study.page : withParts(study.page, sections)
  const pulled = study.specimens.filter(one => one.reading !== null || one.logs.length > 0).length
  return {
    title: study.name,
    question: study.question,
    about: `${pulled} specimen${pulled === 1 ? '' : 's'} of ${list(study.variants.map(variant => variant.name)) || 'no variant'}. Put together ${study.madeAt.slice(0, 10)} by Tenterhook ${ENGINE_VERSION}.`,
    sections: page.blocks.flatMap(block => (block.shown ? sectionOf(block, study) : [])),
  }
}

function sectionOf(block: PageBlock, study: PublishedStudy): Section[] {
  const words = paragraphs(block.words)
  if (block.kind === 'own') {
    const heading = block.heading.trim()
    return heading === '' && words.length === 0
      ? []
      : [{ name: `own-${block.id}`, heading: heading || 'Remark', blocks: words }]
  }
  const section = SECTION[block.part](study)
  return section === null ? [] : [{ ...section, blocks: [...words, ...section.blocks] }]
}

const SECTION: Readonly<Record<SectionName, (study: PublishedStudy) => Section | null>> = {
  answer: answerSection,
  equivalents: equivalentsSection,
  figures: figuresSection,
  method: methodSection,
  rig: rigSection,
  specimens: specimensSection,
  adjusted: adjustedSection,
  spoiled: spoiledSection,
  notes: notesSection,
  care: () => ({ name: 'care', heading: 'Care', blocks: [{ kind: 'list', items: CARE }] }),
  cite: citeSection,
}

/** Notes on the study and its variants, and its photos. */
function notesSection({ remarks, photos, variants }: PublishedStudy): Section | null {
  const blocks = [
    ...variants.flatMap(({ name, note }) => (note === '' ? [] : paragraphs(`${name}: ${note}`))),
    ...remarks.map(remark => ({ kind: 'text', text: remarkText(remark) }) as const),
    ...photos.map(photo => ({ kind: 'photo', photo }) as const),
  ]
  return blocks.length === 0 ? null : { name: 'notes', heading: 'Notes', blocks }
}

/** A line to cite it by. The recordings are named by their hashes, so that a copy can be told from the thing itself. */
function citeSection({ name, question, specimens, madeAt }: PublishedStudy): Section {
  const people = [...new Set(specimens.map(one => one.operator.trim()).filter(one => one !== ''))]
  const logs = specimens.flatMap(one => one.logs)
  const by = people.length > 0 ? list(people) : 'the maker'
  return {
    name: 'cite',
    heading: 'How to cite',
    blocks: [
      {
        kind: 'text',
        text: `${capital(by)} (${madeAt.slice(0, 4)}). ${name}${question === '' ? '' : `: ${question}`}${/[.?!]$/.test(question || name) ? '' : '.'} Report of ${madeAt.slice(0, 10)}, made with Tenterhook ${ENGINE_VERSION}.`,
      },
      {
        kind: 'text',
        text:
          logs.length > 0
            ? `The ${logs.length} recordings behind it are known by the SHA-256 that stands with each specimen.`
            : 'The recordings behind it were not at hand: it was made from their readings.',
        tone: 'pencil',
      },
    ],
  }
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
