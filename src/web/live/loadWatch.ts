/** A half second without a tug shows how much the reading moves by itself. */
const WINDOW_S = 0.5
/** A load stands clear of that, and of the display's step, and of a share of the greatest force (the meaning of a pull). */
const SPREADS = 3
const STEPS = 3
const SHARE = 0.02
/** Without any load, the sides of the first few windows are not yet known. */
const FEWEST_IN_WINDOW = 3

/**
 * Learns from the samples themselves from which force on something pulls: the capture in the server decides what a pull
 * is; this only keeps a key from doing harm in the moment before it has decided.
 */
export interface LoadWatch {
  add(timeS: ArrayLike<number>, forceN: ArrayLike<number>): void
  /** `null` while too little has been seen. */
  loadedFromN(peakN: number | null): number | null
  /** How far the reading moves by itself to either side, or half a step of the display; `null` while it is not known. */
  restlessN(): number | null
  clear(): void
}

export function loadWatch(): LoadWatch {
  let beganS = Number.NaN
  let least = Number.POSITIVE_INFINITY
  let greatest = Number.NEGATIVE_INFINITY
  let inWindow = 0
  let quietSpread = Number.POSITIVE_INFINITY
  let step = Number.POSITIVE_INFINITY
  let before = Number.NaN

  const closeWindow = (): void => {
    if (inWindow >= FEWEST_IN_WINDOW) quietSpread = Math.min(quietSpread, greatest - least)
    least = Number.POSITIVE_INFINITY
    greatest = Number.NEGATIVE_INFINITY
    inWindow = 0
  }
  return {
    add(timeS, forceN) {
      for (let i = 0; i < timeS.length; i++) {
        const [atS, force] = [timeS[i]!, forceN[i]!]
        if (!(atS - beganS < WINDOW_S)) {
          closeWindow()
          beganS = atS
        }
        least = Math.min(least, force)
        greatest = Math.max(greatest, force)
        inWindow++
        const moved = Math.abs(force - before)
        // Floats that differ in their last bits are no step of a display.
        if (moved > 1e-9 * Math.max(1, Math.abs(force))) step = Math.min(step, moved)
        before = force
      }
    },
    loadedFromN(peakN) {
      if (!Number.isFinite(quietSpread)) return null
      const quantum = Number.isFinite(step) ? step : 0
      return Math.max(SPREADS * quietSpread, STEPS * quantum, SHARE * Math.max(0, peakN ?? 0))
    },
    restlessN() {
      if (!Number.isFinite(quietSpread)) return null
      return Math.max(quietSpread / 2, Number.isFinite(step) ? step / 2 : 0)
    },
    clear() {
      beganS = Number.NaN
      closeWindow()
      inWindow = 0
      quietSpread = Number.POSITIVE_INFINITY
      step = Number.POSITIVE_INFINITY
      before = Number.NaN
    },
  }
}
