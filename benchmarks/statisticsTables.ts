import { checkChart } from '../src/core/calibration/checkChart.ts'
import { blockedLayout, twoWayLayout } from '../src/core/statistics/compare/blocks.ts'
import { numericFactor } from '../src/core/statistics/compare/factor.ts'
import { levelAtLook } from '../src/core/statistics/compare/looks.ts'
import { pairs } from '../src/core/statistics/compare/pairs.ts'
import { simultaneousHalf, simultaneousP } from '../src/core/statistics/compare/simultaneous.ts'
import { plainSpecimen } from '../src/core/statistics/compare/specimen.ts'
import { trendOverLooks as trendAtLook } from '../src/core/statistics/compare/trendOverLooks.ts'
import { gamesHowell, tukeyKramer } from '../src/core/statistics/compare/tukey.ts'
import { welch } from '../src/core/statistics/compare/welch.ts'
import { normalQuantile } from '../src/core/statistics/distributions/normal.ts'
import { tQuantile } from '../src/core/statistics/distributions/t.ts'
import { censoredMean } from '../src/core/statistics/group/censoredMean.ts'
import { normalLowerBound } from '../src/core/statistics/group/lowerBound.ts'
import { mean, standardDeviation } from '../src/core/statistics/group/moments.ts'
import { type Random, seededRandom } from '../src/core/statistics/random.ts'
import type { TimeLine } from '../src/core/statistics/timeLine/document.ts'
import { timeLine } from '../src/core/statistics/timeLine/timeLine.ts'
import { lineGiven } from '../test/core/statistics/timeLine/lines.ts'

/**
 * The tables of docs/statistics.md: false alarms, power and coverage by simulation, each with its seed. Run:
 * `npm run bench statisticsTables` (some minutes). A share of 5 in 100 over 4,000 studies is known to ± 0.7.
 */
const RUNS = 4_000
/** Studentized ranges take a while each. */
const DEAR_RUNS = 2_000

const normals = (r: Random, n: number, middle = 0, sd = 1): Float64Array =>
  Float64Array.from({ length: n }, () => middle + sd * r.normal())
const of100 = (share: number): string => (100 * share).toFixed(1)
const row = (...cells: readonly (string | number)[]): void => console.log(`| ${cells.join(' | ')} |`)
function head(title: string, ...cells: readonly string[]): void {
  console.log(`\n### ${title}\n`)
  row(...cells)
  row(...cells.map(() => '---'))
}
function share(runs: number, seed: number, holds: (r: Random) => boolean): number {
  const r = seededRandom(seed)
  let held = 0
  for (let run = 0; run < runs; run++) if (holds(r)) held++
  return held / runs
}

function holm(pValues: readonly number[]): number[] {
  const rising = [...pValues.keys()].sort((i, j) => pValues[i]! - pValues[j]!)
  const adjusted: number[] = []
  let reached = 0
  for (const [rank, index] of rising.entries()) {
    reached = Math.max(reached, pValues[index]! * (pValues.length - rank))
    adjusted[index] = reached
  }
  return adjusted
}

const estimateOf = (x: Float64Array, y: Float64Array) => {
  const { difference, standardError, df } = welch(x, y)!
  return { difference, standardError, df, shared: 0 }
}

function allPairs(): void {
  head(
    'All pairs together (seed 5)',
    'groups × specimens',
    'scatters',
    'first group stands out by',
    'ours (T3)',
    'Games–Howell',
    'Tukey',
    'Welch with Holm',
  )
  for (const [k, n, sds, shift] of [
    [3, 3, [1, 1, 1], 0],
    [3, 5, [1, 1, 1], 0],
    [3, 5, [1, 1, 3], 0],
    [5, 3, [1, 1, 1, 1, 1], 0],
    [5, 5, [1, 1, 1, 1, 1], 0],
    [5, 10, [1, 1, 1, 1, 1], 0],
    [3, 5, [1, 1, 1], 2.5],
    [5, 5, [1, 1, 1, 1, 1], 2.5],
  ] as const) {
    const r = seededRandom(5)
    const found = [0, 0, 0, 0]
    const places = pairs(k)
    for (let run = 0; run < DEAR_RUNS; run++) {
      const groups = sds.map((sd, g) => normals(r, n, g === 0 ? shift : 0, sd))
      const estimates = places.map(([a, b]) => estimateOf(groups[a]!, groups[b]!))
      const methods = [
        estimates.map(e => simultaneousP(e, { count: places.length })),
        gamesHowell(groups)!.map(p => p.p),
        tukeyKramer(groups)!.map(p => p.p),
        holm(places.map(([a, b]) => welch(groups[a]!, groups[b]!)!.p)),
      ]
      // False alarms: any pair. Power: the pair of the first and the second group.
      methods.forEach((p, i) => {
        if (shift === 0 ? p.some(one => one < 0.05) : p[0]! < 0.05) found[i]!++
      })
    }
    row(
      `${k} × ${n}`,
      sds.join(', '),
      shift === 0 ? 'nothing' : `${shift} sd`,
      ...found.map(f => of100(f / DEAR_RUNS)),
    )
  }
}

function againstControl(): void {
  head(
    'All against one control (seed 13): false alarms, and in the last rows power for the first',
    'others, specimens of each',
    'scatters, the control first',
    'first other stands out by',
    'ours (many-to-one)',
    'as all pairs (T3)',
  )
  for (const [sds, n, shift] of [
    [[1, 1, 1], 3, 0],
    [[1, 1, 1], 5, 0],
    [[1, 1, 1, 1, 1], 3, 0],
    [[1, 1, 1, 1, 1], 5, 0],
    [[3, 1, 1, 1], 5, 0],
    [[1, 3, 1, 1], 5, 0],
    [[1, 1, 1], 5, 2.5],
    [[1, 1, 1, 1, 1], 5, 2.5],
  ] as const) {
    const r = seededRandom(13)
    const found = [0, 0]
    const groups = sds.length
    for (let run = 0; run < DEAR_RUNS; run++) {
      const values = sds.map((sd, g) => normals(r, n, g === 1 ? shift : 0, sd))
      const [control, ...others] = values
      const estimates = others.map(x => estimateOf(x, control!))
      const own = standardDeviation(control!) ** 2
      const loadings = others.map(x => Math.sqrt(own / (own + standardDeviation(x) ** 2)))
      const methods = [
        estimates.map(e => simultaneousP(e, { count: others.length, loadings })),
        estimates.map(e => simultaneousP(e, { count: (groups * (groups - 1)) / 2 })),
      ]
      methods.forEach((p, i) => {
        if (shift === 0 ? p.some(one => one < 0.05) : p[0]! < 0.05) found[i]!++
      })
    }
    row(
      `${groups - 1}, ${n}`,
      sds.join(', '),
      shift === 0 ? 'nothing' : `${shift} sd`,
      ...found.map(f => of100(f / DEAR_RUNS)),
    )
  }
}

function equivalence(): void {
  head(
    'As good as: claims within 10 % (two variants, seed 6)',
    'specimens of each',
    'scatter',
    'true difference',
    'claimed',
  )
  for (const [n, sd, difference] of [
    [5, 5, 10],
    [10, 5, 10],
    [20, 10, 10],
    [5, 5, 0],
    [10, 5, 0],
    [10, 5, 5],
    [20, 10, 0],
  ] as const) {
    const claimed = share(RUNS, 6, r => {
      const [x, y] = [normals(r, n, 100 - difference / 2, sd), normals(r, n, 100 + difference / 2, sd)]
      const e = estimateOf(x, y)
      return (
        Math.abs(e.difference) + simultaneousHalf(e, { count: 1, level: 0.1 }) <
        (0.1 * (mean(x) + mean(y))) / 2
      )
    })
    row(n, `${sd} %`, difference === 10 ? '10 % (the margin)' : `${difference} %`, of100(claimed))
  }
}

function sharedDoubt(): void {
  head(
    'A scale known to 1 % (standard), scatter 5 %: coverage (seed 7)',
    'specimens',
    'mean, scatter alone',
    'mean as shown',
    '“9 in 10 exceed”, scatter alone',
    'as shown',
  )
  for (const n of [3, 5, 10, 30]) {
    const r = seededRandom(7)
    const held = [0, 0, 0, 0]
    const truth = 100
    const tenth = truth - 5 * normalQuantile(0.9)
    for (let run = 0; run < RUNS; run++) {
      const scale = 1 + 0.01 * r.normal()
      const x = normals(r, n, truth, 5).map(v => v * scale)
      const middle = mean(x)
      const sd = standardDeviation(x)
      const half = (tQuantile(0.975, n - 1) * sd) / Math.sqrt(n)
      const u = 0.01 * middle
      const bound = normalLowerBound(x, 0.9)!
      const quantile = middle - normalQuantile(0.9) * sd
      const lowered = quantile - Math.hypot(quantile - bound, 1.645 * u)
      if (Math.abs(middle - truth) <= half) held[0]!++
      if (Math.abs(middle - truth) <= Math.hypot(half, 1.96 * u)) held[1]!++
      if (bound <= tenth) held[2]!++
      if (lowered <= tenth) held[3]!++
    }
    row(n, ...held.map(h => of100(h / RUNS)))
  }
}

function blocks(): void {
  head(
    'Blocks to which variants react each in its own way: false alarms, three specimens in a cell (seed 8)',
    'variants × blocks',
    'interaction over noise (sd)',
    'additive model, any pair',
    'ours, any pair',
  )
  for (const [k, b] of [
    [2, 4],
    [3, 2],
    [3, 4],
    [3, 7],
    [4, 5],
  ] as const)
    for (const ratio of [0, 0.3, 0.6, 1]) {
      const r = seededRandom(8)
      const alarms = [0, 0]
      const count = (k * (k - 1)) / 2
      for (let run = 0; run < DEAR_RUNS; run++) {
        const observations = Array.from({ length: k }, (_, group) =>
          Array.from({ length: b }, (_, block) => {
            const own = ratio * r.normal()
            return Array.from({ length: 3 }, () => ({ group, block, value: own + 5 * block + r.normal() }))
          }),
        ).flat(2)
        ;[twoWayLayout(observations), blockedLayout(observations)].forEach((layout, i) => {
          if (layout === null || layout === 'untied') return
          if (layout.pairs.some(p => simultaneousP({ ...p, shared: 0 }, { count }) < 0.05)) alarms[i]!++
        })
      }
      row(`${k} × ${b}`, ratio, ...alarms.map(a => of100(a / DEAR_RUNS)))
    }
}

/** Is any pair called different at a look at this level? As judgePairs does: by the calibrated p, never easier than a single look. */
function seenAtLook(groups: readonly Float64Array[], level: number): boolean {
  const places = pairs(groups.length)
  const family = { count: places.length }
  return places.some(([a, b]) => {
    const [x, y] = [groups[a]!, groups[b]!]
    const estimate = estimateOf(x, y)
    if (simultaneousP(estimate, family) >= 0.05) return false
    const parts = [standardDeviation(x) ** 2 / x.length, standardDeviation(y) ** 2 / y.length] as const
    return simultaneousP(estimate, family, { parts, df: [x.length - 1, y.length - 1] }) < level
  })
}

const levelsOf = (plan: readonly number[], count: number): number[] =>
  plan.map((n, k) =>
    levelAtLook(0.05, { earlier: plan.slice(0, k), planned: plan[0]!, stages: plan.length }, n, count),
  )

/** Specimens of so many equal variants, the first of which scatters so many times as widely. */
const studyOf = (r: Random, variants: number, n: number, ratio: number): Float64Array[] =>
  Array.from({ length: variants }, (_, g) => normals(r, n, 0, g === 0 ? ratio : 1))

const upTo = (groups: readonly Float64Array[], n: number): Float64Array[] => groups.map(g => g.subarray(0, n))

function looks(): void {
  const studies = 10 * RUNS
  head(
    'Looking again after a top-up: false alarms of two equal variants over 40,000 studies (seed 9), one sd so many times the other',
    'specimens of each at the looks',
    'each look at 5 %, sd alike',
    'as stages by Welch’s p, sd alike',
    '3 : 1',
    'as stages, sd alike',
    '2 : 1',
    '3 : 1',
    '5 : 1',
  )
  for (const plan of [
    [3, 6],
    [3, 6, 9],
    [4, 8],
    [4, 6, 9, 14],
    [5, 8],
    [6, 10],
    [6, 8, 11, 15],
    [10, 15],
    [12, 16, 20],
  ]) {
    const levels = levelsOf(plan, 1)
    const alarms = [1, 2, 3, 5].map(ratio => {
      const r = seededRandom(9)
      let [naive, plain, ours] = [0, 0, 0]
      for (let study = 0; study < studies; study++) {
        const groups = studyOf(r, 2, plan.at(-1)!, ratio)
        const p = plan.map(n => welch(groups[0]!.subarray(0, n), groups[1]!.subarray(0, n))!.p)
        if (p.some(one => one < 0.05)) naive++
        if (p.some((one, k) => one < levels[k]!)) plain++
        if (plan.some((n, k) => p[k]! < 0.05 && seenAtLook(upTo(groups, n), levels[k]!))) ours++
      }
      return { naive: naive / studies, plain: plain / studies, ours: ours / studies }
    })
    row(
      plan.join(', then '),
      of100(alarms[0]!.naive),
      of100(alarms[0]!.plain),
      of100(alarms[2]!.plain),
      ...alarms.map(a => of100(a.ours)),
    )
  }
}

function looksOfSeveral(): void {
  head(
    'Looking again, more than two equal variants, 4,000 studies (seed 14): any pair, the first sd so many times the others',
    'variants',
    'specimens of each at the looks',
    'sd alike',
    '2 : 1',
    '3 : 1',
  )
  for (const variants of [3, 5])
    for (const plan of [
      [3, 6],
      [4, 8],
      [6, 10],
      [10, 15],
    ]) {
      const levels = levelsOf(plan, pairs(variants).length)
      const alarms = [1, 2, 3].map(ratio =>
        share(RUNS, 14, r => {
          const groups = studyOf(r, variants, plan.at(-1)!, ratio)
          return plan.some((n, k) => seenAtLook(upTo(groups, n), levels[k]!))
        }),
      )
      row(variants, plan.join(', then '), ...alarms.map(of100))
    }
}

function trendOverLooks(): void {
  head(
    'Looking again at a trend over a number, 4,000 studies with none (seed 15)',
    'variants',
    'specimens of each at the looks',
    'each look at 5 %',
    'as stages of one study',
    'as stages, sd rising from 1 to 3',
  )
  for (const variants of [3, 5])
    for (const plan of [
      [3, 6],
      [4, 6, 9],
      [6, 10],
      [10, 15],
    ]) {
      const alarms = [1, 3].map(most => {
        const r = seededRandom(15)
        let [naive, staged] = [0, 0]
        for (let study = 0; study < RUNS; study++) {
          const groups = Array.from({ length: variants }, (_, g) =>
            Array.from(normals(r, plan.at(-1)!, 0, 1 + ((most - 1) * g) / (variants - 1)), (v, i) =>
              plainSpecimen(`${g} ${i}`, `${g + 1}`, v),
            ),
          )
          const upTo = plan.map(n => groups.map(g => ({ name: g[0]!.group, specimens: g.slice(0, n) })))
          const alone = upTo.map(own => numericFactor(own)!.p < 0.05)
          if (alone.some(Boolean)) naive++
          const looks = plan.map((_, k) => ({
            earlier: plan.slice(0, k),
            planned: plan[0]!,
            stages: plan.length,
          }))
          if (upTo.some((own, k) => alone[k]! && trendAtLook(own, looks[k]!, plan[k]!)!.p < 0.05)) staged++
        }
        return { naive: naive / RUNS, staged: staged / RUNS }
      })
      row(variants, plan.join(', then '), of100(alarms[0]!.naive), ...alarms.map(a => of100(a.staged)))
    }
}

function competing(): void {
  head(
    'Two ways of failing, strengths 100 ± 10 against one and as given against the other: mean of the first (seed 10)',
    'specimens',
    'the other way',
    'mean of those alone that failed so',
    'ours',
    'covered by its interval',
  )
  for (const [n, other] of [
    [6, 110],
    [10, 100],
    [20, 100],
    [20, 95],
  ] as const) {
    const r = seededRandom(10)
    let [plain, ours, held, told] = [0, 0, 0, 0]
    for (let run = 0; run < RUNS; run++) {
      const first = normals(r, n, 100, 10)
      const second = normals(r, n, other, 10)
      const atLeast = Array.from(first, (v, i) => v > second[i]!)
      const found = censoredMean(
        first.map((v, i) => Math.min(v, second[i]!)),
        atLeast,
      )
      if (found === null) continue
      told++
      plain += mean(first.filter((_, i) => !atLeast[i]))
      ours += found.mean
      if (Math.abs(found.mean - 100) <= tQuantile(0.975, found.df) * found.standardError) held++
    }
    row(n, `${other} ± 10`, (plain / told).toFixed(1), (ours / told).toFixed(1), of100(held / told))
  }
}

function censored(): void {
  head(
    'Strong specimens that the rig could not break: difference of two equal variants (seed 11)',
    'specimens of each',
    'cut at (sd above the mean)',
    'false alarms',
    'not to be told (ranks decide)',
  )
  for (const [n, cut] of [
    [5, 1],
    [8, 0.5],
    [12, 0],
  ] as const) {
    const r = seededRandom(11)
    let [alarms, untold] = [0, 0]
    for (let run = 0; run < RUNS; run++) {
      const one = () => {
        const x = normals(r, n)
        return censoredMean(
          x.map(v => Math.min(v, cut)),
          Array.from(x, v => v > cut),
        )
      }
      const [x, y] = [one(), one()]
      if (x === null || y === null) {
        untold++
        continue
      }
      const [a, b] = [x.standardError ** 2, y.standardError ** 2]
      const df = (a + b) ** 2 / (a ** 2 / x.df + b ** 2 / y.df)
      if (Math.abs(x.mean - y.mean) > tQuantile(0.975, df) * Math.sqrt(a + b)) alarms++
    }
    row(n, cut, of100(alarms / (RUNS - untold)), of100(untold / RUNS))
  }
}

function checks(): void {
  head(
    'Daily checks: told days in 100 of a healthy rig, and days until a change is told (seed 12)',
    'rig',
    'result',
  )
  const r = seededRandom(12)
  /** On which of the days a rig is told of; what was told is not learned from. */
  const toldDays = (known: number, days: number, change: (day: number) => number): number[] => {
    const checks = Array.from(normals(r, known), value => ({ value, sound: true }))
    const told: number[] = []
    for (let day = 1; day <= days; day++) {
      const value = change(day) + r.normal()
      const { low, high, drift } = checkChart(checks, value, 0)!
      const isTold = value < low || value > high || Math.abs(drift) > 1
      if (isTold) told.push(day)
      checks.push({ value, sound: !isTold })
    }
    return told
  }
  const [RIGS, DAYS] = [2_000, 40]
  const healthy = Array.from({ length: RIGS }, () => toldDays(3, DAYS, () => 0))
  const atRisk = healthy.reduce((sum, [first = DAYS]) => sum + first, 0)
  const firsts = healthy.filter(told => told.length > 0).length
  const alarms = healthy.reduce((sum, told) => sum + told.length, 0)
  row(
    'healthy, from the fourth check on',
    `told of for the first time by ${of100(firsts / atRisk)} of 100 checks; with those that say it again, by ${of100(alarms / (RIGS * DAYS))}`,
  )
  for (const [name, change] of [
    ['drifts by 0.1 of the day-to-day scatter a day', (day: number) => 0.1 * day],
    ['drifts by 0.2 of it a day', (day: number) => 0.2 * day],
    ['jumps by 3 of it', () => 3],
  ] as const) {
    const until = Array.from({ length: 200 }, () => toldDays(15, 100, change)[0] ?? 100)
    until.sort((a, b) => a - b)
    row(
      `${name}, after 15 healthy checks`,
      `half are told by day ${until[100]}, nine in ten by day ${until[180]}`,
    )
  }
}

/** The gravest of what is told, as the table has its columns. */
const TOLD = ['specimens-changed', 'rig-changed', 'both-changed', 'reading-changed', 'not-told'] as const

function overTime(): void {
  head(
    'Over the weeks: what is told, in 100 lines of 30 days (seeds 0 to 999)',
    'what happens',
    'told as the specimens',
    'as the rig',
    'as both',
    'as the reading',
    'not told what',
    'nothing',
  )
  const lines = 1_000
  for (const [name, happens] of [
    ['nothing', {}],
    ['specimens 5 % lower', { specimensPct: -5 }],
    ['specimens 8 % lower', { specimensPct: -8 }],
    ['rig reads 2 % lower', { rigPct: -2 }],
    ['rig reads 5 % lower', { rigPct: -5 }],
    ['rig reads 4 % lower, specimens 8 %', { rigPct: -4, specimensPct: -8 }],
    ['a newer engine reads 8 % lower', { readingPct: -8 }],
  ] as const) {
    const counts = new Map<string, number>()
    for (let seed = 0; seed < lines; seed++) {
      const { findings } = timeLine(lineGiven(seed, { ...happens, days: 30 }))
      const furthest = findings.toSorted((a, b) => sizeOf(b) - sizeOf(a))[0]?.code ?? 'nothing'
      counts.set(furthest, (counts.get(furthest) ?? 0) + 1)
    }
    row(name, ...[...TOLD, 'nothing'].map(code => of100((counts.get(code) ?? 0) / lines)))
  }
}

const sizeOf = ({ control, checks }: TimeLine['findings'][number]): number =>
  Math.max(Math.abs(control?.byPct ?? 0), Math.abs(checks?.byPct ?? 0))

/** One part by its name, as in `npm run bench statisticsTables -- looks`; all without. */
const PARTS = {
  allPairs,
  againstControl,
  equivalence,
  sharedDoubt,
  blocks,
  looks,
  looksOfSeveral,
  trendOverLooks,
  competing,
  censored,
  checks,
  overTime,
}
const wanted = process.argv.slice(3)
for (const [name, part] of Object.entries(PARTS)) if (wanted.length === 0 || wanted.includes(name)) part()
