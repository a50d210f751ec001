import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from 'vitest'
import { leftIn } from '../capture/journaled.ts'
import { bundled } from './bundle.ts'

const WITHIN_MS = 200

function dice(seed: number): () => number {
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
 * Kills a recorder at seeded random moments and recovers its journal: every sample that arrived more than 200 ms before
 * the kill must be there, and what is there must be the first samples, each as it was sent.
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

async function killOnce(script: string, journals: string, seed: number): Promise<Kill> {
  const random = dice(seed)
  const child = spawn(process.execPath, [script, journals], { stdio: ['pipe', 'pipe', 'pipe'] })
  // Lines that the killed child no longer reads are no fault.
  child.stdin.on('error', () => {})
  let reads = ''
  child.stdout.on('data', chunk => {
    reads += chunk
  })
  await saidReady(child)
  const everyMs = [1, 4, 12][seed % 3]!
  child.stdin.write('time_ms,force_N\n')
  let sent = 0
  const sender = setInterval(() => {
    const lines = Array.from({ length: everyMs }, () => `${sent * 2},${((sent++ * 7) % 1000) / 10}\n`)
    child.stdin.write(lines.join(''))
  }, everyMs)
  await new Promise(resolve => setTimeout(resolve, 250 + 1_250 * random()))
  const killedUs = process.hrtime.bigint() / 1000n
  child.kill('SIGKILL')
  clearInterval(sender)
  await once(child, 'close')

  const told = reads.split('\n')
  const withinUs = BigInt(WITHIN_MS * 1000) + starvedUs(told, killedUs)
  const due = told
    .map(line => /^(\d+) (\d+)$/.exec(line))
    .filter(found => found !== null && killedUs - BigInt(found[2]!) >= withinUs)
    .reduce((most, found) => Math.max(most, Number(found![1]) - 1), 0)
  const { captured, problems } = await leftIn(journals)
  if (due > 0) expect(problems, `seed ${seed}`).toEqual([])
  const recording = captured[0]?.recording
  const recovered = recording?.timeS.length ?? 0
  expect(recovered, `seed ${seed}`).toBeGreaterThanOrEqual(due)
  expect([...(recording?.forceN ?? [])], `seed ${seed}`).toEqual(
    Array.from({ length: recovered }, (_, i) => ((i * 7) % 1000) / 10),
  )
  return { due, recovered }
}

/** How long the recorder was given no time to run in the half second before the kill: beats come every 10 ms where it was. */
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
