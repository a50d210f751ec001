import { rename, rm, stat, writeFile } from 'node:fs/promises'
import { basename, extname, join } from 'node:path'
import { Command, Option } from 'commander'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { FrameRate } from '../../publish/clip/frameRate.ts'
import type { Walk } from '../../publish/clip/walkShapes.ts'
import { DARK, LIGHT } from '../../publish/figure/look.ts'
import {
  clipFile,
  frameRate,
  type PictureSize,
  pictureSize,
  type RenderFlags,
  renderWithProgress,
} from '../clipFlags.ts'
import { fileProblem } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { positive } from '../logOptions.ts'
import type { ClipTargets } from '../publish/clipTarget.ts'
import { addTargetOptions, type TargetFlags } from '../publish/targetOptions.ts'
import { withTargets } from '../publish/withTargets.ts'
import { tell } from '../tell.ts'
import { wrapped } from '../terminal.ts'
import { writeFigure } from '../writeFigure.ts'

interface RetraceFlags extends TargetFlags, RenderFlags {
  readonly size: PictureSize
  readonly fps: FrameRate
  readonly stepSeconds: number
  readonly pictures: 'png' | 'svg'
  readonly look: 'light' | 'dark'
}

const HELP = `
The steps: the record as it was received, its zero, each part letting go, the peak, what was done by hand, the break,
what let go later, and the result with its doubt. Each has one sentence, to be read over the picture.

What is written: without an ending a folder with a picture for each step and steps.txt with the sentences; .webm or .mov
(by ffmpeg) a clip in which the curve grows from step to step.

Examples:
  tenterhook retrace stitch-2.csv --out stitch-2                     a folder of pictures
  tenterhook retrace dots-1.csv --elements 8 --pictures svg --size 1080x1350 --look dark --out dots-1
  tenterhook retrace --study Handles --only "stitch 2" --out stitch-2
  tenterhook retrace stitch-2.csv --step-seconds 6 --out stitch-2.webm

Exit codes: 0 written; 2 the command line is wrong; 3 a log could not be understood; 4 it could not be written, or it was stopped.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description(
      'Tells one curve step by step, for talking over: as pictures with a sentence each, or as a clip.',
    )
    .argument('[log...]', 'log of the specimen; without --specimens or --by several are joined, in order')
    .requiredOption('--out <name>', 'folder for the pictures, or a clip: .webm, .mov', clipFile)
    .addOption(
      new Option('--size <size>', 'width x height in pixels')
        .argParser(pictureSize)
        .default({ width: 1920, height: 1080 }, '1920x1080'),
    )
    .addOption(new Option('--pictures <form>', 'form of the pictures').choices(['png', 'svg']).default('png'))
    .option('--step-seconds <s>', 'how long a clip shows each step', positive, 5)
    .addOption(
      new Option('--fps <rate>', 'frames a second of a clip')
        .argParser(frameRate)
        .default({ num: 30, den: 1 }, '30'),
    )
    .addOption(new Option('--look <look>', 'paper and ink').choices(['light', 'dark']).default('light'))
    .addOption(new Option('--encoder <which>', 'what encodes WebM').choices(['browser', 'ffmpeg']))
    .addOption(
      new Option('--codec <which>', 'what a .mov holds').choices(['prores', 'animation']).default('prores'),
    )
    .option('--json', 'say what was written as JSON')
  return addTargetOptions(command)
    .addHelpText('after', HELP)
    .action(async (files: string[], flags: RetraceFlags) =>
      done(await withTargets(files, oneSpecimen(flags), io, found => retrace(found, flags, io))),
    )
}

/** Plain logs are those of one specimen. */
const oneSpecimen = (flags: RetraceFlags): TargetFlags => ({ ...flags, specimen: true })

async function retrace({ targets }: ClipTargets, flags: RetraceFlags, io: Io): Promise<ExitCode> {
  const [target] = targets
  if (target === undefined || targets.length > 1) return tell(io, [whichOne(targets)], EXIT.input)
  const { recording, reading, name, unit } = target
  const { walkOf } = await import('../../publish/clip/walkClip.ts')
  const walk = walkOf(recording, reading, { name, unit })
  if (extname(flags.out) !== '') {
    const pace = { rate: flags.fps, stepS: flags.stepSeconds }
    const job = { kind: 'walk', walk, pace, ...flags.size, dark: flags.look === 'dark' } as const
    return renderWithProgress(job, flags, io)
  }
  const written = await writePictures(walk, flags)
  if (!written.ok) return tell(io, written.problems, EXIT.output)
  const steps = walk.steps.map((step, i) => ({ file: written.value[i]!, sentence: step.sentence }))
  if (flags.json) io.out(`${JSON.stringify({ path: flags.out, steps })}\n`)
  else
    io.out(
      steps
        .map(({ file, sentence }) => `${file}\n    ${wrapped(sentence, io.columns - 4, '    ')}\n`)
        .join(''),
    )
  return EXIT.ok
}

function whichOne(targets: ClipTargets['targets']): Problem {
  const names = targets.slice(0, 12).map(one => `“${printable(one.name, 30)}”`)
  return {
    where: '--only',
    what: `which of ${targets.length} specimens is to be told is not said.`,
    cure: `Name one: ${names.join(', ')}${targets.length > 12 ? ' …' : ''}.`,
  }
}

/** A picture for each step and the sentences as a text, in a folder that gets its name when all are there. */
async function writePictures(
  walk: Walk,
  { out, size, look, pictures }: RetraceFlags,
): Promise<Outcome<string[]>> {
  if ((await stat(out).catch(() => null)) !== null) {
    return wrong({
      where: out,
      what: 'there is a file or folder of this name already.',
      cure: 'Choose another name, or take it away first.',
    })
  }
  const { walkDescription, walkShapes } = await import('../../publish/clip/walkShapes.ts')
  const { shapesSvg } = await import('../../publish/clip/shapesSvg.ts')
  const { makeHalfFolder } = await import('../../publish/node/halfFile.ts')
  const half = await makeHalfFolder(out)
  if (!half.ok) return half
  try {
    const names = walk.steps.map(
      ({ kind }, i) => `${basename(out)}-${String(i + 1).padStart(2, '0')}-${kind}.${pictures}`,
    )
    for (const [i, name] of names.entries()) {
      const shapes = walkShapes(walk, i, { ...size, look: look === 'dark' ? DARK : LIGHT })
      const svg = shapesSvg(
        shapes,
        { x: 0, y: 0, ...size },
        {
          title: walk.steps[i]!.sentence,
          description: walkDescription(walk, i),
        },
      )
      const written = await writeFigure(join(half.value, name), svg, { scale: 1, fonts: true })
      if (!written.ok) return written
    }
    const text = walk.steps.map((step, i) => `${names[i]}\t${step.sentence}\n`).join('')
    await writeFile(join(half.value, 'steps.txt'), text)
    await rename(half.value, out)
    return fine(names)
  } catch (error) {
    return wrong(fileProblem(out, error, 'writing'))
  } finally {
    await rm(half.value, { recursive: true, force: true })
  }
}
