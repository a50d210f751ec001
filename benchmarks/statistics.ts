import { Bench } from 'tinybench'
import { bcaInterval } from '../src/core/statistics/group/bootstrap.ts'
import { summariseGroup } from '../src/core/statistics/group/summary.ts'
import { seededRandom } from '../src/core/statistics/random.ts'

/**
 * How fast groups are summarised. Run: `npm run bench statistics`.
 *   bootstrap    BCa intervals with 10,000 resamples of 10 groups of 30 (target: under 500 ms)
 *   summary      everything of the same ten groups
 */
const { normal } = seededRandom(1)
const groups = Array.from({ length: 10 }, () => Float64Array.from({ length: 30 }, () => 100 + 12 * normal()))

const bench = new Bench({ time: 3000, warmupTime: 500 })
bench
  .add('bootstrap: 10 groups of 30, 10,000 resamples', () => {
    for (const values of groups) bcaInterval(values)
  })
  .add('summary: 10 groups of 30', () => {
    for (const values of groups) summariseGroup('group', values)
  })
await bench.run()
for (const { name, result } of bench.tasks) {
  if (result.state !== 'completed') throw new Error(`${name} did not finish`)
  console.log(
    `${name}: median ${result.latency.p50.toFixed(0)} ms, worst ${result.latency.max.toFixed(0)} ms`,
  )
}
