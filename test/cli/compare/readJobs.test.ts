import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { afterAll, describe, expect, test } from 'vitest'
import type { Job, JobOptions } from '../../../src/cli/compare/readJob.ts'
import { readJobs } from '../../../src/cli/compare/readJobs.ts'
import { factsFrom } from '../../../src/cli/compare/specimenFacts.ts'
import { bundled } from '../../faults/bundle.ts'

const folder = mkdtempSync(join(tmpdir(), 'read-jobs-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** A short pull to `peakN`: rest, ramp, break, rest. */
function log(name: string, peakN: number): string {
  const path = join(folder, name)
  const rows = Array.from({ length: 300 }, (_, i) => {
    const share = (i - 60) / 180
    const force = share < 0 || share >= 1 ? 0 : peakN * share
    return `${(i / 50).toFixed(2)},${(force + ((i * 7) % 5) / 100).toFixed(2)}`
  })
  writeFileSync(path, `time_s,force_N\n${rows.join('\n')}\n`)
  return path
}

const facts = factsFrom({ by: null, table: null, blocksBy: null })
if (!facts.ok) throw new Error('the usual pattern is one')
const factsOf = facts.value

const options: JobOptions = { log: {}, rig: null, keepRecordings: false }
const jobOf = (path: string): Job => {
  const facts = factsOf(path, null, null)
  if (!facts.ok) throw new Error('the names of these logs have facts')
  return { facts: facts.value, logs: [path] }
}

function script(name: string, onJob: string): URL {
  const path = join(folder, name)
  writeFileSync(
    path,
    `import { parentPort, workerData } from 'node:worker_threads'\nparentPort.on('message', ({ place, job }) => { ${onJob} })\n`,
  )
  return pathToFileURL(path)
}

describe('jobs in threads', () => {
  const jobs = Array.from({ length: 30 }, (_, i) => jobOf(`pull-${i}.csv`))
  // The later a job, the sooner its answer.
  const slow = script(
    'slow.mjs',
    "setTimeout(() => parentPort.postMessage({ place, outcome: { ok: false, problems: [{ where: job.logs[0], what: JSON.stringify(workerData), cure: '' }] } }), 40 - place)",
  )

  test('come back in their order, each once, with progress to the end', async () => {
    const told: [number, number][] = []
    const outcomes = await readJobs(jobs, options, (done, all) => told.push([done, all]), 3, slow)
    expect(outcomes.map(outcome => (outcome.ok ? '' : outcome.problems[0]?.where))).toEqual(
      jobs.map(job => job.logs[0]),
    )
    expect(outcomes[0]).toMatchObject({ problems: [{ what: JSON.stringify(options) }] })
    expect(told).toEqual(jobs.map((_, i) => [i + 1, 30]))
  })

  test('may be fewer than the threads', async () => {
    expect(await readJobs(jobs.slice(0, 1), options, () => {}, 3, slow)).toHaveLength(1)
  })

  test('tell a fault of a thread, or its early end', async () => {
    const faulty = script('faulty.mjs', "throw new Error('a fault')")
    await expect(readJobs(jobs, options, () => {}, 2, faulty)).rejects.toThrow('a fault')
    const ending = script('ending.mjs', 'process.exit(3)')
    await expect(readJobs(jobs, options, () => {}, 2, ending)).rejects.toThrow('ended with 3')
  })
})

describe('logs read in threads', () => {
  test('give what one thread gives, whatever is wrong with some of them', async () => {
    const thread = pathToFileURL(await bundled('../../src/cli/compare/jobThread.ts', folder))
    const broken = [join(folder, 'words-1.csv'), join(folder, 'empty-1.csv'), join(folder, 'gone-1.csv')]
    writeFileSync(broken[0]!, 'no numbers here\n')
    writeFileSync(broken[1]!, '')
    const jobs = [
      ...Array.from({ length: 20 }, (_, i) => log(`pull-${i}.csv`, 40 + ((i * 13) % 10))),
      ...broken,
    ].map(jobOf)
    for (const keepRecordings of [false, true]) {
      const one = await readJobs(jobs, { ...options, keepRecordings }, () => {}, 1)
      const two = await readJobs(jobs, { ...options, keepRecordings }, () => {}, 2, thread)
      expect(two).toEqual(one)
      expect(one.filter(outcome => outcome.ok)).toHaveLength(20)
    }
  })
})
