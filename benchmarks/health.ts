import { readFileSync, writeFileSync } from 'node:fs'
import {
  type Ailment,
  ailments,
  areTold,
  checkAnyRig,
  checkRig,
  scoreOf,
} from '../test/core/health/ailments.ts'

/**
 * How well the troubles of a rig are named: healthy rigs, each trouble alone, and all pairs, over so many seeds
 * (`node scripts/bench.mjs health`, or with another number of seeds in TENTERHOOK_SEEDS). A table, not a speed;
 * TENTERHOOK_INTO=docs/rig-health.md writes it there. TENTERHOOK_FIRST begins with other seeds.
 */
const SEEDS = Number(process.env.TENTERHOOK_SEEDS ?? 40)
const PAIR_SEEDS = Math.ceil(SEEDS / 10)
const FIRST = Number(process.env.TENTERHOOK_FIRST ?? 1)
const into = process.env.TENTERHOOK_INTO

interface Tally {
  checks: number
  asked: number
  named: number
  sized: number
  invented: number
}

const emptyTally = (): Tally => ({ checks: 0, asked: 0, named: 0, sized: 0, invented: 0 })

function count(
  tally: Tally,
  checked: ReturnType<typeof checkAnyRig>,
  given: readonly Ailment[],
  what: string,
) {
  if (checked === null) return
  const score = scoreOf(checked, given)
  tally.checks++
  tally.asked += given.length
  tally.named += score.named.filter(Boolean).length
  tally.sized += score.sized.filter((is, k) => is && score.named[k]).length
  if (score.invented.length > 0) tally.invented++
  const faults = [
    ...given.flatMap((a, k) =>
      score.named[k] ? (score.sized[k] ? [] : [`${a.code} size`]) : [`${a.code} missed`],
    ),
    ...score.invented.map(code => `${code} invented`),
  ]
  if (faults.length > 0) console.log(`  ${what}: ${faults.join(', ')}`)
}

const percent = (n: number, of: number): string => (of === 0 ? '' : `${((100 * n) / of).toFixed(1)} %`)
const row = (what: string, t: Tally): string =>
  `| ${what} | ${t.checks} | ${percent(t.named, t.asked)} | ${percent(t.sized, t.named)} | ${percent(t.invented, t.checks)} |`

const kinds = { usual: checkRig, drawn: checkAnyRig }
const rows: string[] = []
const seeds = (from: number, n: number): number[] => Array.from({ length: n }, (_, i) => from + FIRST + i)

for (const [kind, check] of Object.entries(kinds)) {
  const healthy = emptyTally()
  for (const seed of seeds(50_000, 3 * SEEDS))
    count(healthy, check(seed, []), [], `healthy, ${kind}, seed ${seed}`)
  rows.push(row(`healthy rigs, ${kind}`, healthy))
}
for (const [name, ailment] of Object.entries(ailments)) {
  for (const [kind, check] of Object.entries(kinds)) {
    const tally = emptyTally()
    for (const seed of seeds(0, SEEDS))
      count(tally, check(seed, [ailment]), [ailment], `${name}, ${kind}, seed ${seed}`)
    rows.push(row(`${name}, ${kind}`, tally))
    console.log(rows.at(-1))
  }
}
const entries = Object.entries(ailments)
for (const [kind, check] of Object.entries(kinds)) {
  const tally = emptyTally()
  let turn = 0
  for (const [i, [nameA, a]] of entries.entries())
    for (const [nameB, b] of entries.slice(i + 1)) {
      turn++
      if (!areTold(a, b)) continue
      for (const seed of seeds(1000 * turn, PAIR_SEEDS))
        count(tally, check(seed, [a, b]), [a, b], `${nameA} with ${nameB}, ${kind}, seed ${seed}`)
    }
  rows.push(row(`all pairs, ${kind}`, tally))
}

const table = [
  '| trouble | checks | named | of these within 20 % in size | with anything invented |',
  '| --- | --: | --: | --: | --: |',
  ...rows,
].join('\n')
console.log(table)
if (into !== undefined) {
  const marks = /(<!-- measured: made by a script -->\n)[\s\S]*(<!-- end of measured -->)/
  writeFileSync(
    into,
    readFileSync(into, 'utf8').replace(marks, (_, start, end) => `${start}${table}\n${end}`),
  )
}
