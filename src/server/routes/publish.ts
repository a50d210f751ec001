import { z } from 'zod'
import { fine, type Outcome } from '../../core/problem.ts'
import { FIGURES } from '../../publish/figure/figureNames.ts'
import { LOOKS, type LookName } from '../../publish/figure/look.ts'
import { SHAPE_NAMES, SHAPES } from '../../publish/figure/shape.ts'
import { studyFigure } from '../../publish/figure/studyFigure.ts'
import { slug } from '../../publish/package/slugs.ts'
import { answerPageOf } from '../../publish/report/answer.ts'
import type { Report } from '../../publish/report/block.ts'
import { reportOf } from '../../publish/report/report.ts'
import type { PublishOptions } from '../../publish/study/compose.ts'
import { withInitials } from '../../publish/study/initials.ts'
import { SECTIONS, type SectionName } from '../../publish/study/page.ts'
import type { PublishedStudy } from '../../publish/study/study.ts'
import type { Store } from '../../store/index.ts'
import { publishedStudy } from '../publishedStudy.ts'
import { type Answer, answer, given, type Route, refused, route } from '../route.ts'

const LOOK_NAMES = Object.keys(LOOKS) as readonly LookName[]

/** Which study is told, and how: the same for all that is taken away from it. */
const toldSchema = z.strictObject({
  quantity: z.enum(['peakForce', 'laterPeak', 'work', 'partialBreaks', 'stiffness']).optional(),
  blocksBy: z.enum(['batch', 'operator', 'day']).optional(),
  initials: z.enum(['true', 'false']).default('false'),
})

const reportQuerySchema = toldSchema.extend({
  as: z.enum(['html', 'pdf', 'md']).default('html'),
  /** The whole of it, or the answer alone on one page. */
  page: z.enum(['whole', 'answer']).default('whole'),
  look: z.enum(['system', ...LOOK_NAMES]).default('system'),
  /** Which parts, in which order, with commas between. */
  sections: z
    .string()
    .max(200)
    .optional()
    .transform((text, context): readonly SectionName[] | undefined => {
      if (text === undefined) return undefined
      const asked = text.split(',')
      const known = SECTIONS.filter(name => asked.includes(name))
      if (known.length < asked.length) {
        context.addIssue({ code: 'custom', message: `the parts are ${SECTIONS.join(', ')}, each once` })
        return z.NEVER
      }
      return [...known].sort((a, b) => asked.indexOf(a) - asked.indexOf(b))
    }),
})

const figureQuerySchema = toldSchema.extend({
  as: z.enum(['svg', 'png']).default('svg'),
  look: z.enum(LOOK_NAMES).default('light'),
  shape: z.enum(SHAPE_NAMES).default('page'),
  specimen: z.string().max(200).optional(),
  align: z.enum(['start', 'peak', 'break']).default('start'),
})

export const publishRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/studies/:id/report',
    beside: true,
    summary:
      'Its report as one page, as PDF, or as Markdown with its pictures in a zip; “page=answer”: the answer alone, to share',
    answers: 'a file',
    query: reportQuerySchema,
    async run({ bench, params, query }) {
      const study = await toldStudy(bench.store, params.id ?? '', query)
      if (!study.ok) return answer(study, 404)
      const report =
        query.page === 'answer' ? answerPageOf(study.value) : reportOf(study.value, query.sections)
      return reportAnswer(report, study.value, query)
    },
  }),
  route({
    method: 'GET',
    path: '/api/studies/:id/figures/:what',
    beside: true,
    summary: `A figure of it as SVG or PNG: ${FIGURES.join(', ')}`,
    answers: 'a file',
    query: figureQuerySchema,
    async run({ bench, params, query }) {
      const what = FIGURES.find(name => name === params.what)
      if (what === undefined)
        return refused(404, [
          {
            where: `figure “${params.what}”`,
            what: 'there is none of that name.',
            cure: `There are ${FIGURES.join(', ')}.`,
          },
        ])
      const study = await toldStudy(bench.store, params.id ?? '', query)
      if (!study.ok) return answer(study, 404)
      const { look, shape, align, specimen = null, as } = query
      const svg = studyFigure(study.value, what, { look: LOOKS[look], shape: SHAPES[shape], align, specimen })
      if (!svg.ok) return answer(svg, 404)
      const fileName = `${slug(study.value.name, 'study')}-${what}.${as}`
      if (as === 'png') {
        const { svgToPng } = await import('../../publish/node/png.ts')
        return {
          status: 200,
          type: 'image/png',
          fileName,
          body: svgToPng(svg.value, { scale: SHAPES[shape].pngScale }),
        }
      }
      const { fontFaces } = await import('../../publish/node/assets.ts')
      const { withFonts } = await import('../../publish/figure/embedFonts.ts')
      return { status: 200, type: 'image/svg+xml', fileName, body: [withFonts(svg.value, fontFaces())] }
    },
  }),
]

/** The study as it is told, its people as initials where asked so. */
export async function toldStudy(
  store: Store,
  id: string,
  { quantity, blocksBy, initials }: z.output<typeof toldSchema>,
): Promise<Outcome<PublishedStudy>> {
  const options: PublishOptions = given({ quantity, blocksBy })
  const study = await publishedStudy(store, id, options)
  if (!study.ok) return study
  return fine(initials === 'true' ? withInitials(study.value) : study.value)
}

async function reportAnswer(
  report: Report,
  study: PublishedStudy,
  { as, look, page }: z.output<typeof reportQuerySchema>,
): Promise<Answer> {
  const fileName = `${slug(study.name, 'study')}${page === 'answer' ? '-answer' : ''}.${as === 'md' ? 'zip' : as}`
  switch (as) {
    case 'html': {
      const { fontFaces } = await import('../../publish/node/assets.ts')
      const { reportHtmlPieces } = await import('../../publish/report/html.ts')
      const body = reportHtmlPieces(report, { look, fontFaces: fontFaces() })
      return { status: 200, type: 'text/html; charset=utf-8', fileName, body }
    }
    case 'pdf': {
      const { reportPdf } = await import('../../publish/node/reportPdf.ts')
      const pdf = await reportPdf(report, { madeAt: study.madeAt, env: process.env })
      return pdf.ok ? { status: 200, type: 'application/pdf', fileName, body: pdf.value } : answer(pdf)
    }
    case 'md': {
      const { markdownFiles } = await import('../../publish/node/markdownFiles.ts')
      const { zipOf } = await import('../../publish/package/zip/zipOf.ts')
      const files = markdownFiles(report, 'report.md', look === 'system' ? 'light' : look)
      return { status: 200, type: 'application/zip', fileName, body: zipOf(files, study.madeAt) }
    }
  }
}
