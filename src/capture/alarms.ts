import type { Problem } from '../core/problem.ts'
import type { Alarm, AlarmCode } from './types.ts'

export interface AlarmBoard {
  /** Tells an alarm once, until it is lowered. */
  raise(code: AlarmCode, problem: Problem, atS: number): void
  /** Tells an alarm that stands in other words. */
  renew(code: AlarmCode, problem: Problem, atS: number): void
  lower(code: AlarmCode, atS: number): void
  standing(): Alarm[]
}

export function alarmBoard(send: (alarm: Alarm) => void): AlarmBoard {
  const standing = new Map<AlarmCode, Alarm>()
  const tell = (alarm: Alarm): void => {
    standing.set(alarm.code, alarm)
    send(alarm)
  }
  return {
    raise(code, problem, atS) {
      if (!standing.has(code)) tell({ ...problem, code, atS, over: false, renewed: false })
    },
    renew(code, problem, atS) {
      if (standing.has(code)) tell({ ...problem, code, atS, over: false, renewed: true })
    },
    lower(code, atS) {
      const alarm = standing.get(code)
      if (!alarm) return
      standing.delete(code)
      send({ ...alarm, atS, over: true, renewed: false })
    },
    standing: () => [...standing.values()],
  }
}
