import { parentPort, workerData } from 'node:worker_threads'
import type { Outcome } from '../../core/problem.ts'
import { type Job, type JobOptions, type OpenedReading, readJob } from './readJob.ts'

/** What the thread is asked, and what it answers; `place` is that of the job in the list. */
export interface Question {
  readonly place: number
  readonly job: Job
}

export interface Answer {
  readonly place: number
  readonly outcome: Outcome<OpenedReading>
}

/** The script of a thread that reads logs, one job after the other. */
const port = parentPort
if (!port) throw new Error('jobThread is the script of a thread')
const options = workerData as JobOptions
let last = Promise.resolve()
port.on('message', ({ place, job }: Question) => {
  last = last.then(async () => {
    const outcome = await readJob(job, options)
    port.postMessage({ place, outcome } satisfies Answer)
  })
})
