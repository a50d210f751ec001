import { calibrate } from '../../core/calibration/calibrate.ts'
import type { Check } from '../../core/calibration/checkDocument.ts'
import { judgeCheck } from '../../core/calibration/judgeCheck.ts'
import type { Point } from '../../core/calibration/points.ts'
import { type Rig, rigSchema } from '../../core/calibration/rig.ts'
import { N_PER } from '../../core/units/force.ts'
import { typedGravity } from '../../core/units/gravity.ts'
import { DEMO } from './demoFacts.ts'
import { seeded } from './random.ts'

const GRAVITY = typedGravity(9.8124, 0.0005)
const CYCLES = [1, 2, 3] as const
const UP_KG = [0, 3, 6, 9, 12, 15] as const
/** Limits of the weights that were hung, as a share of their mass. */
const WEIGHT_SHARE = 5e-4
const STEP_KGF = 0.01
const CHECK_KG = 5

/** The rig of the invented study with its calibration of some days before, and a daily check. */
export function demoRig(): { readonly rig: Rig; readonly check: Check } {
  const points = hungWeights()
  const calibration = calibrate(
    {
      name: 'weights.csv',
      points,
      doubts: [
        {
          source: 'weights',
          movesN: Float64Array.from(points, ({ appliedN }) => (WEIGHT_SHARE * appliedN) / Math.sqrt(3)),
          shape: 'rectangular',
        },
      ],
      gravity: GRAVITY,
      readingUnit: DEMO.logUnit,
      readingDecimals: 2,
    },
    { date: DEMO.calibratedOn, resolution: STEP_KGF },
  )
  if (!calibration.ok) throw new Error('the invented calibration cannot be made')
  const rig = rigSchema.parse({
    name: DEMO.rigName,
    cell: { capacityN: 300 },
    converter: { name: '24-bit bridge converter with a display in kgf', rateHz: 40 },
    drive: { mmPerSecond: 0.5 },
    gravity: { ms2: GRAVITY.ms2, halfWidthMs2: 0.0005 },
    calibrations: [{ ...calibration.value, date: DEMO.calibratedOn }],
  })
  return { rig, check: checkOf(rig) }
}

/** Weights hung one after another and taken off again, three times over; the display shows each to its step. */
function hungWeights(): Point[] {
  const random = seeded(DEMO.seed)
  const shown = (appliedN: number): number =>
    Math.round((appliedN / N_PER[DEMO.logUnit] + random.normal(0, STEP_KGF / 3)) / STEP_KGF) * STEP_KGF
  const point = (kg: number, direction: Point['direction'], cycle: number): Point => {
    const appliedN = kg * GRAVITY.ms2
    return { line: 0, appliedN, reading: Number(shown(appliedN).toFixed(2)), direction, cycle }
  }
  return CYCLES.flatMap(cycle => [
    ...UP_KG.map(kg => point(kg, 'up', cycle)),
    ...UP_KG.toReversed()
      .slice(1)
      .map(kg => point(kg, 'down', cycle)),
  ]).map((one, i) => ({ ...one, line: i + 2 }))
}

function checkOf(rig: Rig): Check {
  const appliedN = CHECK_KG * GRAVITY.ms2
  const indicatedN = 4.99 * N_PER[DEMO.logUnit]
  return judgeCheck(
    {
      at: `${DEMO.checkedOn}T08:40:00Z`,
      appliedN,
      appliedStandardN: (WEIGHT_SHARE * appliedN) / Math.sqrt(3),
      indicatedN,
      indicatedStandardN: (STEP_KGF * N_PER[DEMO.logUnit]) / Math.sqrt(6),
      zeroN: null,
      greatestN: null,
    },
    [],
    rig,
    rig.calibrations[0] ?? null,
  ).check
}
