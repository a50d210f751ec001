import { type Ailment, ailments, checkRig, scoreOf } from '../test/core/health/ailments.ts'

/**
 * How well the troubles of a rig are named: healthy rigs, each trouble alone, and all pairs, over so many seeds
 * (`node scripts/bench.mjs health`, or with another number of seeds in TENTERHOOK_SEEDS). A table, not a speed.
 */
const SEEDS = Number(process.env.TENTERHOOK_SEEDS ?? 40)
const PAIR_SEEDS = Math.ceil(SEEDS / 10)

const percent = (n: number, of: number): string => `${((100 * n) / of).toFixed(1)} %`

let wellInvented = 0
for (let seed = 1; seed <= SEEDS; seed++)
  if (scoreOf(checkRig(1000 + seed, []), []).invented.length > 0) wellInvented++
console.log(`healthy: false findings in ${percent(wellInvented, SEEDS)} of ${SEEDS}`)

for (const [name, ailment] of Object.entries(ailments)) {
  const scores = Array.from({ length: SEEDS }, (_, i) => scoreOf(checkRig(i + 1, [ailment]), [ailment]))
  const named = scores.filter(s => s.named[0]).length
  const sized = scores.filter(s => s.sized[0]).length
  const invented = scores.filter(s => s.invented.length > 0).length
  console.log(
    `${name.padEnd(12)} named ${percent(named, SEEDS)}, size within 20 % ${percent(sized, SEEDS)}, beside it invented ${percent(invented, SEEDS)}`,
  )
}

const hides = (a: Ailment, b: Ailment): boolean => a.hides?.includes(b.code) === true
let pairs = 0
let named = 0
let sized = 0
let clean = 0
const faults = new Map<string, number>()
const names = Object.keys(ailments)
for (const [i, a] of names.entries()) {
  for (const b of names.slice(i + 1)) {
    const given = [ailments[a]!, ailments[b]!]
    if (given[0]!.code === given[1]!.code || hides(given[0]!, given[1]!) || hides(given[1]!, given[0]!))
      continue
    for (let seed = 1; seed <= PAIR_SEEDS; seed++) {
      const score = scoreOf(checkRig(seed, given), given)
      pairs++
      named += score.named.filter(Boolean).length
      sized += score.sized.filter(Boolean).length
      if (score.invented.length === 0) clean++
      const fault = [
        ...score.named.flatMap((is, k) => (is ? [] : [`${given[k]!.code} missed`])),
        ...score.invented.map(code => `${code} invented`),
      ].join(', ')
      if (fault !== '')
        faults.set(`${a} with ${b}: ${fault}`, (faults.get(`${a} with ${b}: ${fault}`) ?? 0) + 1)
    }
  }
}
console.log(
  `pairs: ${pairs}; named ${percent(named, 2 * pairs)}, size within 20 % ${percent(sized, 2 * pairs)}, nothing invented ${percent(clean, pairs)}`,
)
for (const [fault, n] of faults) console.log(`  ${fault}: ${n} of ${PAIR_SEEDS}`)
