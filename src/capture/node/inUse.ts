import { readFileSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { hostname } from 'node:os'
import type { Header, Writer } from '../journal/entries.ts'
import { isOpenHere } from '../journal/openHere.ts'

/**
 * Field 22 of `/proc/PID/stat` (proc(5)): ticks since the start of the system. The name before it may hold
 * anything.
 */
const beganOf = (stat: string): string | null => stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19] ?? null

export function thisWriter(): Writer {
  let began: string | null = null
  if (process.platform === 'linux') {
    try {
      began = beganOf(readFileSync(`/proc/${process.pid}/stat`, 'latin1'))
    } catch {
      // Where it is not to be had, the age of the journal decides.
    }
  }
  return { host: hostname(), began }
}

/** A journal that was written to so recently may be in use where nothing better is known of its writer. */
const IN_USE_MS = 60_000

/** Whether a process writes this journal now. Its writer touches it every few seconds. */
export async function isInUse(path: string, { pid, writer }: Header, ageMs: number): Promise<boolean> {
  if (isOpenHere(path)) return true
  const isYoung = ageMs < IN_USE_MS
  if (writer && writer.host !== hostname()) return isYoung
  if (pid === process.pid && (!writer || writer.began === thisWriter().began)) return false
  if (!isRunning(pid)) return false
  if (writer?.began == null) return isYoung
  try {
    return beganOf(await readFile(`/proc/${pid}/stat`, 'latin1')) === writer.began
  } catch {
    return isYoung
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    // It is there, but belongs to another user.
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}
