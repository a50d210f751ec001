import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from 'vitest'
import { leftIn } from '../capture/journaled.ts'
import { bundled } from './bundle.ts'

const WITHIN_MS = 200

/** A linear congruential generator (Numerical Recipes). */
export function dice(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32
  }
}

export interface Kill {
  readonly due: number
  readonly recovered: number
}

/**
 * Kills a recorder at seeded random moments and recovers its journal: every sample that arrived more than 200
 * ms before the kill must be there, and what is there must be the first samples, each as it was sent.
 */
export async function killed(seed: number, count: number, sideBySide: number): Promise<Kill[]> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-kill-'))
  try {
    const script = await bundled('captureChild.ts', folder)
    const kills: Kill[] = []
    for (let from = 0; from < count; from += sideBySide) {
      const some = Array.from({ length: Math.min(sideBySide, count - from) }, (_, i) =>
        killOnce(script, join(folder, `journals-${from + i}`), seed + from + i),
      )
      kills.push(...(await Promise.all(some)))
    }
    return kills
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/** The force of a sample that is sent, as it must come back. */
export const forceSent = (sample: number): number => ((sample * 7) % 1000) / 10

/** A recorder that is sent samples until it is told to stop. */
export interface FedRecorder {
  readonly child: ChildProcess
  /** What it told of its reads, and of its alarms and its end. */
  readonly told: () => { readonly reads: readonly string[]; readonly said: string }
  readonly sent: () => number
  stop(): void
}

/** `command`: how the recorder is started, and in which folder it keeps its journals. */
export async function fedRecorder(command: readonly string[], everyMs: number): Promise<FedRecorder> {
  const [program = '', ...words] = command
  const child = spawn(program, words, { stdio: ['pipe', 'pipe', 'pipe'] })
  // Lines that a killed child no longer reads are no fault.
  child.stdin.on('error', () => {})
  let reads = ''
  child.stdout.on('data', chunk => {
    reads += chunk
  })
  let said = ''
  child.stderr.on('data', chunk => {
    said += chunk
  })
  await saidReady(child)
  child.stdin.write('time_ms,force_N\n')
  let sent = 0
  const sender = setInterval(() => {
    const lines = Array.from({ length: everyMs }, () => `${sent * 2},${forceSent(sent++)}\n`)
    child.stdin.write(lines.join(''))
  }, everyMs)
  return {
    child,
    told: () => ({ reads: reads.split('\n'), said }),
    sent: () => sent,
    stop: () => clearInterval(sender),
  }
}

/** Microseconds of the machine’s steady clock, as the recorder tells them too. */
export const nowUs = (): bigint => process.hrtime.bigint() / 1000n

/** Samples that the recorder had read so long before a moment that they must be on the disk. */
export function dueAt(reads: readonly string[], atUs: bigint): number {
  const withinUs = BigInt(WITHIN_MS * 1000) + starvedUs(reads, atUs)
  return reads
    .map(line => /^(\d+) (\d+)$/.exec(line))
    .filter(found => found !== null && atUs - BigInt(found[2]!) >= withinUs)
    .reduce((most, found) => Math.max(most, Number(found![1]) - 1), 0)
}

async function killOnce(script: string, journals: string, seed: number): Promise<Kill> {
  const random = dice(seed)
  const fed = await fedRecorder([process.execPath, script, journals], [1, 4, 12][seed % 3]!)
  await new Promise(resolve => setTimeout(resolve, 250 + 1_250 * random()))
  const killedUs = nowUs()
  fed.child.kill('SIGKILL')
  fed.stop()
  await once(fed.child, 'close')

  const due = dueAt(fed.told().reads, killedUs)
  const { captured, problems } = await leftIn(journals)
  if (due > 0) expect(problems, `seed ${seed}`).toEqual([])
  const recording = captured[0]?.recording
  const recovered = recording?.timeS.length ?? 0
  expect(recovered, `seed ${seed}`).toBeGreaterThanOrEqual(due)
  expect([...(recording?.forceN ?? [])], `seed ${seed}`).toEqual(
    Array.from({ length: recovered }, (_, i) => forceSent(i)),
  )
  return { due, recovered }
}

/**
 * How long the recorder was given no time to run in the half second before the kill: beats come every 10 ms
 * where it was.
 */
function starvedUs(told: readonly string[], killedUs: bigint): bigint {
  const beats = told
    .map(line => /^beat (\d+)$/.exec(line)?.[1])
    .filter(beat => beat !== undefined)
    .map(BigInt)
    .filter(beat => killedUs - beat < 500_000n)
  let starved = 0n
  for (const [i, beat] of beats.entries()) {
    const gap = (beats[i + 1] ?? killedUs) - beat
    if (gap > 30_000n) starved += gap - 10_000n
  }
  return starved
}

export async function saidReady(child: ChildProcess): Promise<void> {
  let said = ''
  await new Promise<void>((resolve, reject) => {
    child.stderr?.on('data', chunk => {
      said += chunk
      if (said.includes('ready')) resolve()
    })
    child.once('exit', code => reject(new Error(`the recorder ended (${code}): ${said}`)))
  })
}
