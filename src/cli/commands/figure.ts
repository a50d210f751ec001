import { Argument, Command, Option } from 'commander'
import { FIGURES, type FigureName } from '../../publish/figure/figureNames.ts'
import { LOOKS, type LookName } from '../../publish/figure/look.ts'
import { SHAPE_NAMES, SHAPES, type ShapeName } from '../../publish/figure/shape.ts'
import type { PublishedStudy } from '../../publish/study/study.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { addStudyOptions, type StudyFlags } from '../publish/studyOptions.ts'
import { withStudy } from '../publish/withStudy.ts'
import { tell } from '../tell.ts'
import { figureFile, writeFigure } from '../writeFigure.ts'

interface FigureFlags extends StudyFlags {
  readonly out: string
  readonly look: LookName
  readonly shape: ShapeName
  readonly specimen?: string
  readonly align: 'start' | 'peak' | 'break'
  readonly fonts: boolean
}

/** They show a rig and nothing else. */
const OF_RIG: readonly FigureName[] = ['calibration', 'check']

const HELP = `
What: answer has all of the answer in one picture; pull explains one pull (--specimen says which); variant shows that
specimen's curve among those of its kind; dots has every specimen with the means and their intervals;
overlay lays the curves over one another; weibull shows how the values scatter; calibration and check show what the
rig is worth. Left-out specimens are struck out in dots and are not in overlay.

Shapes: page among text; wide 1920 × 1080 for a film; square 1080 × 1080; upright 1080 × 1350 for a phone, where its
smallest letters are 12 px high on a screen 360 px wide. An SVG carries its typeface, unless --no-fonts is given; a
PNG is drawn with the shipped one and is the same on every machine.

Examples:
  tenterhook figure pull --study Handles --specimen "stitch 2" --out stitch-2.svg
  tenterhook figure dots --study Handles --look dark --shape wide --out film.png
  tenterhook figure calibration --rig rig.json --out rig.svg
  tenterhook figure overlay --align break --specimens bags.csv --shape upright --out phone.png *.csv

Exit codes: 0 drawn; 2 the command line is wrong; 3 what it would show is not there; 4 the file could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description('Draws one figure of a study, as SVG or PNG, with its description inside.')
    .addArgument(new Argument('<what>', 'which figure').choices(FIGURES))
    .argument('[file...]', 'logs, or readings as `read --json` prints them (.json, .jsonl)')
    .requiredOption('--out <file>', 'file to write, .svg or .png', figureFile)
    .addOption(new Option('--look <look>', 'paper and ink').choices(Object.keys(LOOKS)).default('light'))
    .addOption(new Option('--shape <shape>', 'what it is made for').choices(SHAPE_NAMES).default('page'))
    .option(
      '--specimen <name>',
      'the pull to explain, or to show among its kind: the first that was read unless told',
    )
    .addOption(
      new Option('--align <where>', 'where an overlay puts its curves together')
        .choices(['start', 'peak', 'break'])
        .default('start'),
    )
    .option('--no-fonts', 'leave the typeface out of an SVG')
  return addStudyOptions(command)
    .addHelpText('after', HELP)
    .action(async (what: FigureName, files: string[], flags: FigureFlags) =>
      done(
        await withStudy(files, flags, io, study => draw(study, what, flags, io), {
          ofRigAlone: OF_RIG.includes(what),
        }),
      ),
    )
}

async function draw(
  study: PublishedStudy,
  what: FigureName,
  { out, look, shape, specimen, align, fonts }: FigureFlags,
  io: Io,
): Promise<ExitCode> {
  const { studyFigure } = await import('../../publish/figure/studyFigure.ts')
  const svg = studyFigure(study, what, {
    look: LOOKS[look],
    shape: SHAPES[shape],
    specimen: specimen ?? null,
    align,
  })
  if (!svg.ok) return tell(io, svg.problems, EXIT.input)
  const written = await writeFigure(out, svg.value, { scale: SHAPES[shape].pngScale, fonts })
  return written.ok ? EXIT.ok : tell(io, written.problems, EXIT.output)
}
