import { countsNegative } from '../../logs/meaning/tension.ts'

export interface SignWatch {
  /**
   * One force above the live zero, as the line counts it. Whether tension is counted negative, by the rule of
   * the logs; `null` as long as the force has not gone further than `leastN` from its zero.
   */
  add(forceN: number, leastN: number): boolean | null
  /** Forgets what was seen: another specimen may hang there. */
  restart(): void
}

/**
 * Which way a load goes on a running line, from how far the force went up and down. Single odd samples do not
 * count.
 */
export function watchSign(): SignWatch {
  let up = 0
  let down = 0
  let before = 0
  return {
    add(forceN, leastN) {
      up = Math.max(up, Math.min(before, forceN))
      down = Math.max(down, Math.min(-before, -forceN))
      before = forceN
      return Math.max(up, down) > leastN ? countsNegative(up, down) : null
    },
    restart() {
      up = down = before = 0
    },
  }
}
