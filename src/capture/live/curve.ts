/** Points kept: enough for any screen. */
const MOST = 4_096

export interface ThinCurve {
  readonly timeS: readonly number[]
  readonly lowN: readonly number[]
  readonly highN: readonly number[]
}

/**
 * The curve so far in bounded room, for a viewer who comes late: least and greatest force of equal runs of
 * samples.
 */
export function growCurve(): {
  add(atS: number, forceN: number): void
  thin(): ThinCurve
  /** Upside down: the sign of the force was found to be the other one. */
  turn(): void
  /** Forgets what is older, or all. */
  clear(beforeS?: number): void
} {
  let perPoint = 1
  let inPoint = 0
  let timeS: number[] = []
  let lowN: number[] = []
  let highN: number[] = []

  const halve = (): void => {
    const half = timeS.length >> 1
    timeS = Array.from({ length: half }, (_, i) => timeS[2 * i]!)
    lowN = Array.from({ length: half }, (_, i) => Math.min(lowN[2 * i]!, lowN[2 * i + 1]!))
    highN = Array.from({ length: half }, (_, i) => Math.max(highN[2 * i]!, highN[2 * i + 1]!))
    perPoint *= 2
  }
  return {
    add(atS, forceN) {
      if (inPoint === 0 || inPoint === perPoint) {
        if (timeS.length === MOST) halve()
        timeS.push(atS)
        lowN.push(forceN)
        highN.push(forceN)
        inPoint = 1
        return
      }
      const at = timeS.length - 1
      lowN[at] = Math.min(lowN[at]!, forceN)
      highN[at] = Math.max(highN[at]!, forceN)
      inPoint++
    },
    thin: () => ({ timeS: [...timeS], lowN: [...lowN], highN: [...highN] }),
    turn() {
      const low = lowN
      lowN = highN.map(n => 0 - n)
      highN = low.map(n => 0 - n)
    },
    clear(beforeS = Number.POSITIVE_INFINITY) {
      const from = timeS.findIndex(s => s >= beforeS)
      if (from >= 0) {
        timeS = timeS.slice(from)
        lowN = lowN.slice(from)
        highN = highN.slice(from)
        return
      }
      perPoint = 1
      inPoint = 0
      timeS = []
      lowN = []
      highN = []
    },
  }
}
