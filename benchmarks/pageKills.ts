import { killPages } from '../test/faults/pageKills.ts'

/**
 * Kills the browser in the middle of recordings of the one HTML file, and looks what is there when it is opened again
 * (target: no sample lost that was said 200 ms before). Ends with exit code 1 where one is.
 * Run: `npm run bench pageKills`; BENCH_KILLS is how often (50), BENCH_RATES at how many lines a second ("80,1000").
 */
const kills = Number(process.env.BENCH_KILLS ?? 50)
const rates = (process.env.BENCH_RATES ?? '80,1000').split(',').map(Number)

for (const [i, linesPerS] of rates.entries()) {
  const ofThese = Math.floor(kills / rates.length) + (i < kills % rates.length ? 1 : 0)
  const { due, lost, gone } = await killPages(ofThese, linesPerS, text => console.log(`  ${text}`))
  console.log(
    `${linesPerS} lines/s, ${ofThese} kills: ${due} samples were due, ${lost} lost, ${gone} recordings gone`,
  )
  if (lost > 0 || gone > 0) process.exitCode = 1
}
