import { mkdtemp, readFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { DEMO } from '../../capture/pretend/index.ts'
import type { Outcome } from '../../core/problem.ts'
import { explain } from '../../core/reading/explain.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import { CARE } from '../../publish/care.ts'
import { readingFigure } from '../../publish/figure/readingFigure.ts'
import { figurePage, type PageSection } from '../../publish/figurePage.ts'
import { fontFaces } from '../../publish/node/assets.ts'
import { openReadings } from '../compare/openReadings.ts'
import type { OpenedReading } from '../compare/readJob.ts'
import { factsFrom, openTableFacts } from '../compare/specimenFacts.ts'
import { writeDemo } from '../demo/writeDemo.ts'
import { writeWhole } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { openRig } from '../rigFile.ts'
import { tell } from '../tell.ts'
import { wrapped } from '../terminal.ts'
import { build as buildCompare } from './compare.ts'

interface DemoFlags {
  readonly out?: string
}

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description(
      'Makes the logs of an invented study, reads and compares them, and writes a page of figures: a tour in a minute.',
    )
    .option('--out <folder>', 'folder for the logs and the page, instead of one among the temporary files')
    .action(async (flags: DemoFlags) => done(await demo(flags, io)))
}

async function demo(flags: DemoFlags, io: Io): Promise<ExitCode> {
  const folder = flags.out ?? (await mkdtemp(join(tmpdir(), 'tenterhook-demo-')))
  const made = await writeDemo(folder)
  if (!made.ok) return tell(io, made.problems, EXIT.output)
  const { table, rig: rigFile } = made.value
  const logs = made.value.specimens.flatMap(s => s.paths)
  io.out(`${DEMO.title}\n${DEMO.question}\n\n`)

  const read = await readAll(table, rigFile, logs, io)
  if (!read.ok) return tell(io, read.problems, EXIT.input)
  for (const { reading } of read.value) {
    const name = reading.specimen?.name ?? reading.recording.name
    io.out(`  ${name.padEnd(16)}${peakWords(reading.results.peakForce, 'N')}\n`)
  }
  io.out('\n')

  const dots = join(folder, 'comparison.svg')
  let compared: ExitCode = EXIT.ok
  const compare = buildCompare(io, code => {
    compared = code
  })
  await compare.parseAsync(
    ['--specimens', table, '--rig', rigFile, '--show', 'N', '--figure', dots, ...logs],
    { from: 'user' },
  )
  if (compared !== EXIT.ok) return compared
  const page = await writeWhole(join(folder, 'index.html'), pageOf(read.value, await readFile(dots, 'utf8')))
  if (!page.ok) return tell(io, page.problems, EXIT.output)
  io.out(`\nLogs, table, rig: ${folder}\nPage of figures: ${pathToFileURL(page.value).href}\n\n`)
  io.out(CARE.map(text => `  ${wrapped(text, io.columns - 2, '  ')}\n`).join(''))
  return EXIT.ok
}

async function readAll(
  table: string,
  rigFile: string,
  logs: readonly string[],
  io: Io,
): Promise<Outcome<OpenedReading[]>> {
  const rig = await openRig(rigFile)
  if (!rig.ok) return rig
  const facts = await openTableFacts(table)
  if (!facts.ok) return facts
  const factsOf = factsFrom({ by: null, table: facts.value, blocksBy: null })
  if (!factsOf.ok) return factsOf
  return openReadings(logs, { factsOf: factsOf.value, log: {}, rig: rig.value, keepRecordings: true }, io)
}

function pageOf(read: readonly OpenedReading[], comparison: string): string {
  const sections = read.flatMap(({ reading, recording }): PageSection[] => {
    if (recording === null) return []
    const { whys } = explain(reading)
    return [
      {
        heading: `${reading.specimen?.name ?? reading.recording.name}: ${peakWords(reading.results.peakForce, 'N')}`,
        sentences: [reading.specimen?.note ?? '', ...whys.slice(0, 1).map(w => w.text)].filter(
          text => text !== '',
        ),
        svg: readingFigure(recording, reading),
      },
    ]
  })
  return figurePage({
    title: DEMO.title,
    question: DEMO.question,
    lead: ['Fifteen made-up specimens, five of each way, read and compared by Tenterhook.'],
    fontFaces: fontFaces(),
    sections: [{ heading: 'The three ways beside each other', sentences: [], svg: comparison }, ...sections],
  })
}
