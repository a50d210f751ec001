/** The latest seconds of a line, in arrays that are made once. */
export interface RecentReadings {
  add(timeS: readonly number[], value: readonly number[]): void
  clear(): void
  /** Copies of what is there. */
  read(): Readings
}

export interface Readings {
  readonly timeS: Float64Array
  readonly value: Float64Array
}

/** Readings as they were under one snapshot of the live stream. */
export interface SeenReadings extends Readings {
  readonly snapshot: number
}

const NONE: Readings = { timeS: new Float64Array(), value: new Float64Array() }

/**
 * What may be shown now: none of an earlier snapshot. A line that is opened again may send in another unit, and counts
 * must never stand on the screen, or be taken, as newtons.
 */
export const readingsOf = (seen: SeenReadings | null, snapshot: number): Readings =>
  seen?.snapshot === snapshot ? seen : NONE

const MOST = 8_192

export function recentReadings(keepS: number, most = MOST): RecentReadings {
  const time = new Float64Array(2 * most)
  const values = new Float64Array(2 * most)
  let from = 0
  let to = 0
  return {
    add(timeS, value) {
      for (let i = 0; i < timeS.length; i++) {
        if (to > from && timeS[i]! <= time[to - 1]!) continue
        if (to === 2 * most) {
          from = Math.max(from, to - most)
          time.copyWithin(0, from, to)
          values.copyWithin(0, from, to)
          to -= from
          from = 0
        }
        time[to] = timeS[i]!
        values[to] = value[i]!
        to++
      }
      while (to > from && time[from]! < time[to - 1]! - keepS) from++
      from = Math.max(from, to - most)
    },
    clear() {
      from = to = 0
    },
    read: () => ({ timeS: time.slice(from, to), value: values.slice(from, to) }),
  }
}
