import { answerIn } from '../../core/answer/answerOf.ts'
import { checkChart } from '../../core/calibration/checkChart.ts'
import { errorPctOf } from '../../core/calibration/judgeCheck.ts'
import type { DatedCalibration } from '../../core/calibration/rig.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { N_PER, shownUnitOf } from '../../core/units/force.ts'
import { NOT_FOR_RATING } from '../care.ts'
import type { PublishedSpecimen, PublishedStudy } from '../study/study.ts'
import { calibrationFigure } from './calibrationFigure.ts'
import { checkFigure } from './checkFigure.ts'
import { dotsFigure } from './dotsFigure.ts'
import type { FigureName } from './figureNames.ts'
import { LOOKS, type Look } from './look.ts'
import { overlayFigure } from './overlayFigure.ts'
import { readingFigure } from './readingFigure.ts'
import { lookIn, SHAPES, type Shape } from './shape.ts'
import { weibullFigure } from './weibullFigure.ts'

export interface StudyFigureOptions {
  readonly look?: Look
  readonly shape?: Shape
  /** Which pull is explained, or stands out among its kind: the name of a specimen, `null` for the first that was read. */
  readonly specimen?: string | null
  readonly align?: 'start' | 'peak' | 'break'
  /** Whether the answer's headline stands over it; left out where it stands beside. */
  readonly withHeadline?: boolean
}

/** A figure of a study as SVG. Problems: what it would show is not there. */
export function studyFigure(
  study: PublishedStudy,
  what: FigureName,
  {
    look = LOOKS.light,
    shape = SHAPES.page,
    specimen = null,
    align = 'start',
    withHeadline = true,
  }: StudyFigureOptions = {},
): Outcome<string> {
  const frame = { look: lookIn(look, shape), width: shape.width, height: shape.height }
  const { comparison, rig } = study
  const headline = withHeadline && comparison !== null ? answerIn(comparison).headline : null
  switch (what) {
    case 'pull':
      return pullFigure(study, specimen, frame)
    case 'variant':
      return variantFigure(study, specimen, { ...frame, align })
    case 'answer':
    case 'dots':
    case 'weibull': {
      if (comparison === null)
        return missing(what, study.notCompared ?? 'There is no comparison.', 'Pull and read specimens first.')
      const options = { ...frame, shown: shownOf(study), headline }
      if (what === 'answer')
        return fine(
          dotsFigure(comparison, {
            ...options,
            headline: answerIn(comparison).headline,
            question: study.question,
            under: [
              ...answerIn(comparison)
                .doubts.slice(0, MOST_DOUBTS)
                .map(({ text }) => text),
              NOT_FOR_RATING,
            ],
          }),
        )
      return fine(what === 'dots' ? dotsFigure(comparison, options) : weibullFigure(comparison, options))
    }
    case 'overlay': {
      const curves = study.specimens.flatMap(one =>
        one.recording === null || one.reading === null || one.status === 'left-out'
          ? []
          : [
              {
                recording: one.recording,
                reading: one.reading,
                group: one.variant ?? 'no variant',
                name: one.name,
              },
            ],
      )
      return curves.length > 0
        ? fine(overlayFigure(curves, { ...frame, align, headline, shown: unitShown(study) }))
        : missing(what, 'no specimen has a curve.', 'Give the logs themselves, not readings alone.')
    }
    case 'calibration': {
      const calibration = latestCalibration(study)
      return calibration === null
        ? missing(what, 'the rig has no calibration.', 'Calibrate it: tenterhook calibrate --save rig.json.')
        : fine(calibrationFigure(calibration, frame))
    }
    case 'check': {
      const checks = checksOf(study)
      const last = checks.at(-1)
      if (rig === null || last === undefined)
        return missing(what, 'the rig has no daily checks.', 'Check it: tenterhook check --rig rig.json.')
      const chart = checkChart(
        checks.slice(0, -1).map(one => ({ value: errorPctOf(one), sound: one.verdict === 'within' })),
        errorPctOf(last),
        (100 * last.indicatedStandardN) / last.appliedN,
      )
      return fine(checkFigure(rig.name, checks, chart, frame))
    }
  }
}

/** Doubts that a picture has room for; the gravest come first. */
const MOST_DOUBTS = 4

/** One specimen's curve among those of its variant. */
function variantFigure(
  study: PublishedStudy,
  name: string | null,
  frame: { look: Look; width: number; height: number | null; align: 'start' | 'peak' | 'break' },
): Outcome<string> {
  const drawable = study.specimens.filter(hasCurve)
  const chosen = name === null ? drawable[0] : drawable.find(one => one.name === name)
  if (chosen === undefined)
    return missing(
      'variant',
      name === null ? 'no specimen has a curve.' : `no specimen “${name}” has a curve.`,
      'Choose one that was recorded and read.',
    )
  const kind = drawable.filter(
    one => one === chosen || (one.variant === chosen.variant && one.status !== 'left-out'),
  )
  const others = kind.length - 1
  return fine(
    overlayFigure(
      kind.map(({ recording, reading, variant, name }) => ({
        recording,
        reading,
        group: variant ?? 'no variant',
        name,
      })),
      {
        ...frame,
        strong: chosen.name,
        headline: `${chosen.name} ${others === 0 ? 'is the only one' : `against ${others === 1 ? 'one other' : `${others} others`}`} of its kind`,
        shown: unitShown(study),
      },
    ),
  )
}

const missing = (what: FigureName, why: string, cure: string): Outcome<string> =>
  wrong({ where: `figure ${what}`, what: why, cure })

function pullFigure(
  study: PublishedStudy,
  name: string | null,
  frame: { look: Look; width: number; height: number | null },
): Outcome<string> {
  const drawable = study.specimens.filter(hasCurve)
  const chosen = name === null ? drawable[0] : study.specimens.find(one => one.name === name)
  if (chosen === undefined) {
    const names = study.specimens.slice(0, 20).map(one => `“${one.name}”`)
    return missing(
      'pull',
      name === null ? 'no specimen has a curve.' : `there is no specimen “${name}”.`,
      names.length > 0 ? `The specimens are ${names.join(', ')}.` : 'Pull one first.',
    )
  }
  const { recording, reading } = chosen
  return recording === null || reading === null
    ? missing('pull', `“${chosen.name}” has no curve.`, 'Choose one that was recorded and read.')
    : fine(
        readingFigure(recording, reading, {
          ...frame,
          unit: shownUnitOf(reading.recording.forceUnit, study.forceUnit),
        }),
      )
}

export const hasCurve = (
  one: PublishedSpecimen,
): one is PublishedSpecimen & {
  recording: NonNullable<PublishedSpecimen['recording']>
  reading: NonNullable<PublishedSpecimen['reading']>
} => one.recording !== null && one.reading !== null

/** Unit in which the comparison is shown; `null` where it is no force or the unit is newton. */
const shownOf = (study: PublishedStudy) => (study.comparison?.unit === 'N' ? unitShown(study) : null)

const unitShown = ({ forceUnit }: PublishedStudy) =>
  forceUnit === 'N' ? null : { unit: forceUnit, per: N_PER[forceUnit] }

/** The latest calibration with known loads; `null` where the rig has none, or but a quick scale. */
export function latestCalibration({ rig }: PublishedStudy): DatedCalibration | null {
  const dated = (rig?.calibrations ?? []).filter(one => one.document === 'tenterhook.calibration')
  return dated.reduce<DatedCalibration | null>(
    (last, one) => (last === null || one.date >= last.date ? one : last),
    null,
  )
}

/** The checks under the calibration that the last of them was made with. */
export const checksOf = ({ checks }: PublishedStudy): PublishedStudy['checks'] =>
  checks.filter(one => one.calibration === checks.at(-1)?.calibration)
