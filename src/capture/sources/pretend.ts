import { type PretendKind, pretendLines } from '../pretend/index.ts'
import type { Source } from '../source.ts'
import { pause } from './keepOpen.ts'

/** Lines that are due are sent together so often: as a serial line delivers them, a few at a time. */
const TURN_MS = 8

export interface PretendOptions {
  readonly kind: PretendKind
  readonly seed: number
  /** 1: as a rig would; 10: ten times as fast; Infinity: all at once. */
  readonly speed?: number
}

/** A rig that is not there: the lines of a seeded pull, at their times. Its end is the line's end. */
export function pretendSource({ kind, seed, speed = 1 }: PretendOptions): Source {
  return {
    kind: 'pretend',
    name: `pretend rig ${kind} ${seed}`,
    async run(listener, stop) {
      const text = new TextEncoder()
      listener.opened()
      let begunMs = Number.NaN
      let due = ''
      for (const { atS, line } of pretendLines({ kind, seed })) {
        // The pull has been worked out by the first line.
        if (Number.isNaN(begunMs)) begunMs = performance.now() - (atS * 1000) / speed
        while (!stop.aborted && atS * 1000 > (performance.now() - begunMs) * speed) {
          if (due !== '') listener.bytes(text.encode(due))
          due = ''
          await pause(TURN_MS, stop)
        }
        if (stop.aborted) return null
        due += `${line}\n`
        // All at once is still not in one piece: whoever listens must have turns too.
        if (due.length < 8_192) continue
        listener.bytes(text.encode(due))
        due = ''
        await pause(0, stop)
      }
      if (due !== '') listener.bytes(text.encode(due))
      return null
    },
    send: null,
  }
}
