import { spawnSync } from 'node:child_process'
import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'

/**
 * Reading a 200 MB log of two columns (12 million samples) as a whole process, start and file included: our reader
 * (built, dist/logs.js), numpy's loadtxt and the general CSV library csv-parse, each in a process of its own.
 * Run: `npm run bench logs`; `npm run bench logs` with BENCH_SAMPLES=1000000 for a shorter log.
 * Targets: at least 1.8 times as fast as loadtxt; peak memory below 2.5 times the samples' own 16 bytes each.
 */
const samples = Number(process.env.BENCH_SAMPLES ?? 12_000_000)
const runs = 3

/** Each prints its peak memory in bytes, and how many samples it has. */
const ours = `
  import { closeSync, fstatSync, openSync, readSync } from 'node:fs'
  import { openLog } from ${JSON.stringify(pathToFileURL(join(process.cwd(), 'dist/logs.js')).href)}
  const file = openSync(process.argv[1])
  const log = openLog('big.csv', {}, fstatSync(file).size)
  const chunk = new Uint8Array(4 << 20)
  for (let n = readSync(file, chunk); n > 0; n = readSync(file, chunk)) log.push(chunk.subarray(0, n))
  closeSync(file)
  const read = log.finish()
  if (!read.ok) throw new Error(read.problems[0].what)
  console.log(process.resourceUsage().maxRSS * 1024, read.value.timeS.length)`
const general = `
  import { createReadStream } from 'node:fs'
  import { parse } from 'csv-parse'
  const time = [], force = []
  for await (const [t, f] of createReadStream(process.argv[1], { highWaterMark: 4 << 20 }).pipe(parse({ from_line: 2 }))) {
    time.push(Number(t)); force.push(Number(f))
  }
  console.log(process.resourceUsage().maxRSS * 1024, time.length)`
const numpy = `
import numpy, resource, sys
read = numpy.loadtxt(sys.argv[1], delimiter=',', skiprows=1)
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024, len(read))`

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-bench-'))
const file = join(folder, 'big.csv')
try {
  writeLog(file)
  const megabytes = statSync(file).size / 1e6
  console.log(`${samples} samples, ${megabytes.toFixed(0)} MB, best of ${runs} whole processes`)
  const node = ['--input-type=module', '-e']
  const own = timed('tenterhook', process.execPath, [...node, ours, file], megabytes)
  const loadtxt = timed('numpy loadtxt', 'python3', ['-c', numpy, file], megabytes)
  const csv = timed('csv-parse', process.execPath, [...node, general, file], megabytes, 1)
  if (!own) throw new Error('our own reader did not finish')
  if (loadtxt)
    console.log(`  ${(loadtxt.seconds / own.seconds).toFixed(1)} times as fast as numpy loadtxt (target 1.8)`)
  if (csv) console.log(`  ${(csv.seconds / own.seconds).toFixed(1)} times as fast as csv-parse`)
  console.log(
    `  peak memory ${(own.peakBytes / (16 * samples)).toFixed(2)} times the samples' own (target 2.5)`,
  )
} finally {
  rmSync(folder, { recursive: true })
}

function writeLog(path: string): void {
  const out = openSync(path, 'w')
  writeSync(out, 'time_s,force_N\n')
  let text = ''
  for (let i = 0; i < samples; i++) {
    text += `${(i / 10_000).toFixed(4)},${(100 + ((i * 7919) % 100_000) / 250).toFixed(3)}\n`
    if (i % 50_000 === 49_999 || i === samples - 1) {
      writeSync(out, text)
      text = ''
    }
  }
  closeSync(out)
}

function timed(name: string, command: string, words: readonly string[], megabytes: number, times = runs) {
  let best: { seconds: number; peakBytes: number } | null = null
  for (let run = 0; run < times; run++) {
    const began = performance.now()
    const done = spawnSync(command, words, { encoding: 'utf8' })
    const seconds = (performance.now() - began) / 1000
    const [peakBytes = 0, read = 0] = (done.stdout ?? '').split(' ').map(Number)
    if (done.status !== 0 || read !== samples) {
      console.log(
        `  ${name}: not to be had here (${(done.stderr || String(done.error)).trim().split('\n').at(-1)})`,
      )
      return null
    }
    if (!best || seconds < best.seconds) best = { seconds, peakBytes }
  }
  if (best) {
    const speed = (megabytes / best.seconds).toFixed(0)
    console.log(
      `  ${name}: ${best.seconds.toFixed(2)} s, ${speed} MB/s, peak ${(best.peakBytes / 1e6).toFixed(0)} MB`,
    )
  }
  return best
}
