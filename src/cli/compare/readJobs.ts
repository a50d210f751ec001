import { existsSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import type { Outcome } from '../../core/problem.ts'
import type { Answer, Question } from './jobThread.ts'
import { type Job, type JobOptions, type OpenedReading, readJob } from './readJob.ts'

/** A thread takes about as long to start and to warm up as so many logs to read. */
const LOGS_A_THREAD = 40
/** The thread's script beside the built command line; there is none where the sources run unbuilt. */
const BUILT_THREAD = new URL('../jobThread.js', import.meta.url)

/**
 * Reads the jobs, many of them in as many threads as there are cores; the outcomes stand in the order of the jobs.
 * `tell` is given how many are done. `threads` is for tests.
 */
export async function readJobs(
  jobs: readonly Job[],
  options: JobOptions,
  tell: (done: number, all: number) => void,
  threads = threadsFor(jobs),
  script = BUILT_THREAD,
): Promise<Outcome<OpenedReading>[]> {
  if (threads > 1 && existsSync(fileURLToPath(script))) return inThreads(jobs, options, tell, threads, script)
  const outcomes: Outcome<OpenedReading>[] = []
  for (const job of jobs) {
    tell(outcomes.length, jobs.length)
    outcomes.push(await readJob(job, options))
  }
  return outcomes
}

function threadsFor(jobs: readonly Job[]): number {
  // Standard input is that of this thread.
  if (jobs.some(job => job.logs.includes('-'))) return 1
  const logs = jobs.reduce((sum, job) => sum + job.logs.length, 0)
  return Math.min(availableParallelism(), Math.floor(logs / LOGS_A_THREAD))
}

async function inThreads(
  jobs: readonly Job[],
  options: JobOptions,
  tell: (done: number, all: number) => void,
  threads: number,
  script: URL,
): Promise<Outcome<OpenedReading>[]> {
  const { Worker } = await import('node:worker_threads')
  const outcomes: Outcome<OpenedReading>[] = new Array(jobs.length)
  const workers = Array.from(
    { length: threads },
    () =>
      new Worker(script, {
        workerData: options,
        // Each log leaves some megabytes behind: room for the young ones spares most of the collecting.
        resourceLimits: { maxYoungGenerationSizeMb: 64 },
      }),
  )
  let next = 0
  let done = 0
  try {
    await Promise.all(
      workers.map(
        worker =>
          new Promise<void>((end, fail) => {
            let asked = 0
            let answered = 0
            // One job more than it works on waits at each thread, so that none is idle between two.
            const ask = (): void => {
              while (asked - answered < 2 && next < jobs.length) {
                const place = next++
                worker.postMessage({ place, job: jobs[place]! } satisfies Question)
                asked++
              }
              if (asked === answered) end()
            }
            worker.on('message', ({ place, outcome }: Answer) => {
              outcomes[place] = outcome
              answered++
              tell(++done, jobs.length)
              ask()
            })
            worker.on('error', fail)
            worker.on('exit', code => fail(new Error(`a thread that reads logs ended with ${code}`)))
            ask()
          }),
      ),
    )
  } finally {
    await Promise.all(workers.map(worker => worker.terminate()))
  }
  return outcomes
}
