import type { Problem } from '../core/problem.ts'
import type { Alarm, AlarmCode } from './types.ts'

export interface AlarmBoard {
  /** Tells an alarm once, until it is lowered. */
  raise(code: AlarmCode, problem: Problem, atS: number): void
  lower(code: AlarmCode, atS: number): void
  standing(): Alarm[]
}

export function alarmBoard(send: (alarm: Alarm) => void): AlarmBoard {
  const standing = new Map<AlarmCode, Alarm>()
  return {
    raise(code, problem, atS) {
      if (standing.has(code)) return
      const alarm: Alarm = { ...problem, code, atS, over: false }
      standing.set(code, alarm)
      send(alarm)
    },
    lower(code, atS) {
      const alarm = standing.get(code)
      if (!alarm) return
      standing.delete(code)
      send({ ...alarm, atS, over: true })
    },
    standing: () => [...standing.values()],
  }
}
