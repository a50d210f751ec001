import { mkdir } from 'node:fs/promises'
import { dirname, extname, join } from 'node:path'
import { Command, InvalidArgumentError, Option } from 'commander'
import { fileProblem } from '../../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { LOOKS, type LookName } from '../../publish/figure/look.ts'
import { answerPageOf } from '../../publish/report/answer.ts'
import type { Report } from '../../publish/report/block.ts'
import { reportOf } from '../../publish/report/report.ts'
import type { PublishedStudy } from '../../publish/study/study.ts'
import { writeWhole } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { addStudyOptions, type StudyFlags } from '../publish/studyOptions.ts'
import { withStudy } from '../publish/withStudy.ts'
import { tell } from '../tell.ts'

interface ReportFlags extends StudyFlags {
  readonly out: string
  readonly look: LookName | 'system'
  readonly onePage?: true
}

const ENDINGS = ['.html', '.pdf', '.md'] as const

const HELP = `
The page opens from disk and asks nothing of a network: fonts, figures and photos are inside, and its curves can be
looked at closer. The PDF is drawn by the program itself; only for letters that its typeface lacks, or WebP photos, a
browser of this computer prints it ($TENTERHOOK_BROWSER names one; none for none). Beside report.md a folder
report-figures holds its pictures.

Examples:
  tenterhook report --study Handles --out report.html
  tenterhook report --study Handles --initials --out report.pdf
  tenterhook report --study Handles --one-page --out answer.html
  tenterhook report --specimens bags.csv --name "Carrier bags" --question "Which holds best?" --out blog.md *.csv

Exit codes: 0 written; 2 the command line is wrong; 3 the study could not be understood; 4 a file could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description(
      'Writes the report of a study: question, answer, method, rig, every curve and what made its figure.',
    )
    .argument('[file...]', 'logs, or readings as `read --json` prints them (.json, .jsonl)')
    .requiredOption(
      '--out <file>',
      'file to write, .html, .pdf or .md; - for HTML on standard output',
      reportFile,
    )
    .addOption(
      new Option('--look <look>', 'paper and ink of the page; system: as the reader’s computer asks')
        .choices(['system', ...Object.keys(LOOKS)])
        .default('system'),
    )
    .option('--one-page', 'the answer alone, to share: headline, ranking, one figure, what it does not show')
  return addStudyOptions(command)
    .addHelpText('after', HELP)
    .action(async (files: string[], flags: ReportFlags) =>
      done(await withStudy(files, flags, io, study => write(study, flags, io))),
    )
}

function reportFile(path: string): string {
  if (path !== '-' && !ENDINGS.some(ending => extname(path).toLowerCase() === ending))
    throw new InvalidArgumentError(
      'A report is written as .html, .pdf or .md: give the file one of these endings.',
    )
  return path
}

async function write(study: PublishedStudy, { out, look, onePage }: ReportFlags, io: Io): Promise<ExitCode> {
  const report = onePage ? answerPageOf(study) : reportOf(study)
  const written = await writeReport(report, study, { out, look, io })
  if (!written.ok) return tell(io, written.problems, EXIT.output)
  io.err(`(written: ${written.value})\n`)
  return EXIT.ok
}

async function writeReport(
  report: Report,
  study: PublishedStudy,
  { out, look, io }: Pick<ReportFlags, 'out' | 'look'> & { io: Io },
): Promise<Outcome<string>> {
  switch (extname(out).toLowerCase()) {
    case '.pdf': {
      const { reportPdf } = await import('../../publish/node/reportPdf.ts')
      const pdf = await reportPdf(report, { madeAt: study.madeAt, env: io.env })
      return pdf.ok ? writeWhole(out, pdf.value) : pdf
    }
    case '.md':
      return writeMarkdown(report, out, look === 'system' ? 'light' : look)
    default: {
      const { reportHtml } = await import('../../publish/report/html.ts')
      const { fontFaces } = await import('../../publish/node/assets.ts')
      return writeWhole(out, await reportHtml(report, { look, fontFaces: fontFaces() }))
    }
  }
}

/** The text, and its pictures in a folder beside it. */
async function writeMarkdown(report: Report, out: string, look: LookName): Promise<Outcome<string>> {
  const { markdownFiles } = await import('../../publish/node/markdownFiles.ts')
  for await (const { path, bytes } of markdownFiles(report, out, look)) {
    const whole = join(dirname(out), path)
    try {
      if (dirname(path) !== '.') await mkdir(dirname(whole), { recursive: true })
    } catch (error) {
      return wrong(fileProblem(dirname(whole), error, 'writing'))
    }
    const written = await writeWhole(whole, bytes)
    if (!written.ok) return written
  }
  return fine(out)
}
