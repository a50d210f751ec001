import type { Random } from './random.ts'

/**
 * Short pushes on the grips: a hand (half a sine, under 0.4 s) or a knock (a ring that dies away), well apart, so
 * that none of them lasts as long as a pull. Each spans several outputs: what shows in one only is a glitch to anyone.
 */
export function asidePushes(
  steps: number,
  stepS: number,
  periodS: number,
  knocks: number,
  random: Random,
): Float64Array {
  const pushes = new Float64Array(steps)
  let atS = random.between(0.1, 0.4)
  const spacingS = (steps * stepS) / (knocks + 1e-9)
  while (knocks > 0 && atS + 1.2 < steps * stepS) {
    const byHand = random.chance(0.6)
    const sizeN = random.between(1, 12) * (random.chance(0.5) ? 1 : -1)
    const lastsS = Math.max(
      byHand ? random.between(0.08, 0.38) : random.between(0.1, 0.3),
      (byHand ? 3.2 : 6) * periodS,
    )
    const from = Math.round(atS / stepS)
    const length = Math.round(lastsS / stepS)
    for (let i = 0; i < length && from + i < steps; i++) {
      const share = i / length
      pushes[from + i] = byHand
        ? sizeN * Math.sin(Math.PI * share)
        : sizeN * Math.sin(2 * Math.PI * 1.5 * share) * Math.exp(-3 * share)
    }
    atS += lastsS + 0.5 + random.wait(spacingS)
  }
  return pushes
}
