import type { Random } from './random.ts'

/** Fluctuation of the force under load that is no breaking: it comes back. */
export type TextureSpec =
  /** Climbs and falls again and again along the travel, as serrated flow, threads, or a stick and its slip. */
  | {
      readonly what: 'teeth'
      readonly everyMm: number
      /** Height of a tooth over the force. */
      readonly share: number
      /** Part of a tooth in which the force falls. */
      readonly sharp: number
      /** How unlike the teeth are, 0 to 1, in height and in length. */
      readonly uneven: number
    }
  /** Swings in time while there is load: the drive, or a frame that rings. */
  | {
      readonly what: 'vibration'
      readonly hz: number
      /** Half the swing over the force. */
      readonly share: number
      /** How much its height wanders, 0 to 1. */
      readonly uneven: number
    }

/** Gives the factor on the force after `byMm` more of travel and `dtS` more of time. */
export function makeTexture(spec: TextureSpec | null, random: Random): (byMm: number, dtS: number) => number {
  if (spec === null) return () => 1
  if (spec.what === 'vibration') {
    let phase = random.between(0, 2 * Math.PI)
    let wander = 0
    return (_byMm, dtS) => {
      phase += 2 * Math.PI * spec.hz * dtS
      const overS = 6 / spec.hz // the height follows a drive or a frame that swings for some periods at a time
      wander += (-wander * dtS) / overS + 0.4 * spec.uneven * Math.sqrt((2 * dtS) / overS) * random.normal()
      return 1 + spec.share * Math.max(0, 1 + wander) * Math.sin(phase)
    }
  }
  const drawn = (): { mm: number; share: number } => ({
    mm: spec.everyMm * Math.max(0.2, 1 + spec.uneven * random.between(-0.8, 0.8)),
    share: spec.share * Math.max(0.1, 1 + spec.uneven * random.between(-0.9, 0.9)),
  })
  let tooth = drawn()
  let alongMm = random.between(0, tooth.mm)
  let lowestShare = 0
  return byMm => {
    if (byMm > 0) alongMm += byMm
    while (alongMm >= tooth.mm) {
      alongMm -= tooth.mm
      lowestShare = tooth.share
      tooth = drawn()
    }
    // Climbs from where the last tooth fell to; falls by its own height.
    const at = alongMm / tooth.mm
    const climb = 1 - spec.sharp
    const below =
      at < climb ? lowestShare * (1 - at / climb) : (tooth.share * (at - climb)) / Math.max(1e-9, spec.sharp)
    return 1 - below
  }
}
