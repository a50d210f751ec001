import { fine, type Outcome, type Problem, wrong } from '../problem.ts'
import type { Gravity } from '../units/gravity.ts'
import {
  AIR_DENSITY_KGM3,
  AIR_DENSITY_SHARE,
  buoyantShare,
  STEEL_DENSITY_KGM3,
  UNCORRECTED_SHARE,
} from './buoyancy.ts'
import type { Warning } from './document.ts'
import { type AppliedDoubt, type Point, sweepsOf } from './points.ts'
import type { PointRow } from './pointsDocument.ts'
import { type Mass, stackOf } from './references.ts'

export interface AppliedOptions {
  readonly gravity: Gravity
  readonly references?: ReadonlyMap<string, Mass>
  /** Correct air buoyancy where the density is known and below 8,000 kg/m³. */
  readonly buoyancy?: boolean
  readonly airDensityKgM3?: number
  /** Limits ± of every load whose own are not given, as a share of it. */
  readonly toleranceShare?: number
}

export interface Applied {
  readonly points: readonly Point[]
  readonly doubts: readonly AppliedDoubt[]
  /** Whether any load was a mass, so that gravity entered. */
  readonly masses: boolean
  readonly warnings: readonly Warning[]
}

/** One load, hung on the hook: its force, and what each cause of doubt moves it by (one standard uncertainty). */
interface Hung {
  readonly forceN: number
  readonly moves: ReadonlyMap<string, number>
  readonly known: boolean
  readonly mass: boolean
  readonly buoyedShare: number
}

/** Rows of a points file → points in newton, with the doubts of the loads, each by its cause. */
export function applyLoads(
  file: string,
  rows: readonly PointRow[],
  options: AppliedOptions,
): Outcome<Applied> {
  const problems: Problem[] = []
  const hung: Hung[] = []
  for (const row of rows) {
    const outcome = hang(file, row, options)
    if (outcome.ok) hung.push(outcome.value)
    else problems.push(...outcome.problems)
  }
  if (problems.length > 0) return wrong(...problems)
  const sweeps = sweepsOf(hung.map(h => h.forceN))
  const points = rows.map((row, i): Point => {
    const mark = sweeps.marks[i]!
    return {
      line: row.line,
      appliedN: hung[i]!.forceN,
      reading: row.reading,
      direction: row.direction ?? (row.cycle === null ? mark.direction : 'up'),
      cycle: row.cycle ?? (row.direction === null ? mark.cycle : 1),
    }
  })
  const sources = [...new Set(hung.flatMap(h => [...h.moves.keys()]))]
  const doubts = sources.map(
    (source): AppliedDoubt => ({
      source,
      movesN: Float64Array.from(hung, h => h.moves.get(source) ?? 0),
      shape: 'rectangular',
    }),
  )
  return fine({ points, doubts, masses: hung.some(h => h.mass), warnings: loadWarnings(hung, options) })
}

function hang(file: string, row: PointRow, options: AppliedOptions): Outcome<Hung> {
  const where = `${file}, line ${row.line}`
  if (row.stack !== null && row.stack !== '0' && row.stack.toLowerCase() !== 'empty') {
    const stack = stackOf(row.stack, options.references ?? new Map(), where)
    return stack.ok ? fine(hangStack(stack.value, options)) : stack
  }
  const { load, loadUnit } = row
  if (load === null || loadUnit === null || load === 0)
    return fine({ forceN: 0, moves: new Map(), known: true, mass: false, buoyedShare: 0 })
  if (row.densityKgM3 !== null && !(row.densityKgM3 > 0))
    return wrong({
      where: `${where}, density`,
      what: `a density of ${row.densityKgM3} kg/m³ cannot be.`,
      cure: 'Give it in kg/m³ (steel 7,850, water 998), or leave the cell empty.',
    })
  const given = row.tolerance ?? (options.toleranceShare === undefined ? null : options.toleranceShare * load)
  const standard = given === null ? null : given / Math.sqrt(3)
  if (loadUnit.kind === 'force') {
    const moves = new Map(standard === null ? [] : [['applied force', standard * loadUnit.factor]])
    return fine({
      forceN: load * loadUnit.factor,
      moves,
      known: standard !== null,
      mass: false,
      buoyedShare: 0,
    })
  }
  const mass: Mass = {
    name: 'masses',
    kg: load * loadUnit.factor,
    standardKg: standard === null ? null : standard * loadUnit.factor,
    densityKgM3: row.densityKgM3,
    text: '',
  }
  return fine(hangStack([mass], options))
}

/** F = Σ m g (1 − ρ_air/ρ). The tolerance of each mass, gravity and buoyancy are separate causes. */
function hangStack(masses: readonly Mass[], options: AppliedOptions): Hung {
  const { gravity, buoyancy = true, airDensityKgM3 = AIR_DENSITY_KGM3 } = options
  const moves = new Map<string, number>()
  let forceN = 0
  let inVacuumN = 0
  let buoyancyMoveN = 0
  for (const mass of masses) {
    const share =
      buoyancy && mass.densityKgM3 !== null && mass.densityKgM3 < STEEL_DENSITY_KGM3
        ? buoyantShare(mass.densityKgM3, airDensityKgM3)
        : 0
    const weightN = mass.kg * gravity.ms2
    inVacuumN += weightN
    forceN += weightN * (1 - share)
    buoyancyMoveN += weightN * (share > 0 ? AIR_DENSITY_SHARE * share : UNCORRECTED_SHARE)
    if (mass.standardKg !== null) {
      const source = mass.name === 'masses' ? 'masses' : `reference ${mass.name}`
      moves.set(source, (moves.get(source) ?? 0) + mass.standardKg * gravity.ms2 * (1 - share))
    }
  }
  moves.set('gravity', (forceN * gravity.halfWidthMs2) / gravity.ms2 / Math.sqrt(3))
  moves.set('air buoyancy', buoyancyMoveN / Math.sqrt(3))
  return {
    forceN,
    moves,
    known: masses.every(mass => mass.standardKg !== null),
    mass: true,
    buoyedShare: inVacuumN > 0 ? 1 - forceN / inVacuumN : 0,
  }
}

function loadWarnings(hung: readonly Hung[], { gravity }: AppliedOptions): Warning[] {
  const warnings: Warning[] = []
  if (hung.some(h => h.mass) && gravity.from === 'unknown')
    warnings.push({
      code: 'gravity-assumed',
      text: `Masses were turned into forces with standard gravity; the place may differ by up to 0.27 %, which the doubt covers. Say where it stands, and it is smaller.`,
    })
  if (hung.some(h => !h.known))
    warnings.push({
      code: 'loads-without-doubt',
      text: 'The loads carry no limits, so the doubt covers the readings but not the masses. Say how well each is known (a good kitchen scale to 0.5 %).',
    })
  const most = Math.max(0, ...hung.map(h => h.buoyedShare))
  if (most > 0)
    warnings.push({
      code: 'buoyancy-corrected',
      text: `Air buoyancy was taken off: up to ${(100 * most).toFixed(3)} % of the load.`,
    })
  return warnings
}
