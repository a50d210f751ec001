import type { Random } from './random.ts'

/** What moves the grips apart. */
export interface DriveSpec {
  /** A nut turned by hand goes in surges, slows and stops; a motor only ripples. */
  readonly by: 'hand' | 'motor'
  readonly speedMmPerS: number
  /** Relative swing of the speed within a turn. */
  readonly swing: number
  readonly turnsPerS: number
  /** Mean time between pauses of the hand, and their greatest length; `null`: it never pauses. */
  readonly pauses: { readonly everyS: number; readonly upToS: number } | null
}

export interface Drive {
  /** Travel made in `dtS`, in mm, while pulling. */
  pull(dtS: number): number
  /** Begins again from standstill. */
  stop(): void
}

export function makeDrive(spec: DriveSpec, random: Random): Drive {
  let phase = random.between(0, 2 * Math.PI)
  let wander = 0 // slow change of the hand's pace, an Ornstein–Uhlenbeck process
  let pace = 0 // follows the wished speed with the inertia of hand or motor
  let untilPauseS = spec.pauses ? random.wait(spec.pauses.everyS) : Number.POSITIVE_INFINITY
  let pausedForS = 0
  const inertiaS = spec.by === 'hand' ? 0.06 : 0.15
  return {
    pull(dtS) {
      phase += 2 * Math.PI * spec.turnsPerS * dtS
      if (spec.by === 'hand')
        wander += (-wander * dtS) / 0.7 + spec.swing * 0.4 * Math.sqrt((2 * dtS) / 0.7) * random.normal()
      let wished = spec.speedMmPerS * Math.max(0, 1 + spec.swing * Math.sin(phase) + wander)
      if (pausedForS > 0) {
        pausedForS -= dtS
        wished = 0
      } else if (spec.pauses) {
        untilPauseS -= dtS
        if (untilPauseS <= 0) {
          pausedForS = random.between(0.3, spec.pauses.upToS)
          untilPauseS = random.wait(spec.pauses.everyS)
        }
      }
      pace += ((wished - pace) * dtS) / inertiaS
      return pace * dtS
    },
    stop() {
      pace = 0
      pausedForS = 0
    },
  }
}
