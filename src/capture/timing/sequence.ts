/** Sequence numbers of our line protocol run from 0 to this less one and begin again. */
const SEQUENCE_SPAN = 65_536
/** A number so far behind the newest may still be late; farther behind, the device has started anew. */
const LATE_MOST = 64
const REMEMBERED = 2 * LATE_MOST
/** A jump to near 0 over more than this is a device that started anew rather than a loss. */
const LOST_MOST_TO_START = 1_000

interface SequenceFinding {
  /** `late`: comes after newer ones; one that was counted as lost has been found. */
  readonly kind: 'next' | 'repeated' | 'late' | 'reset'
  /** Numbers left out just before this one. */
  readonly lost: number
  /** Place in a count that never wraps and rises over a reset too. */
  readonly place: number
}

export interface SequenceWatch {
  see(number: number): SequenceFinding
  /** The device said that it started anew: the next number is a first one. */
  restart(): void
}

/**
 * Watches the sequence numbers of one line. A jump ahead is a loss; a step back of a few is a late or a
 * repeated sample, told apart by what has been seen; any other step back, and a far jump to near 0, is a
 * device that started anew.
 */
export function watchSequence(): SequenceWatch {
  let newest = -1
  let newestPlace = -1
  let begun = false
  const seen = new Float64Array(REMEMBERED).fill(-1)

  const next = (number: number, ahead: number, kind: 'next' | 'reset', lost: number): SequenceFinding => {
    newest = number
    newestPlace += ahead
    seen[newestPlace % REMEMBERED] = newestPlace
    return { kind, lost, place: newestPlace }
  }
  return {
    restart() {
      newest = -1
    },
    see(number) {
      if (newest < 0) {
        const kind = begun ? 'reset' : 'next'
        begun = true
        // So far on that no number of before can be taken for a late one of now.
        return next(number, kind === 'reset' ? REMEMBERED : 1, kind, 0)
      }
      const ahead = (number - newest + SEQUENCE_SPAN) % SEQUENCE_SPAN
      const behind = (SEQUENCE_SPAN - ahead) % SEQUENCE_SPAN
      if (behind <= LATE_MOST) {
        const place = newestPlace - behind
        if (seen[place % REMEMBERED] === place) return { kind: 'repeated', lost: 0, place }
        if (number < newest || behind < newestPlace) {
          seen[place % REMEMBERED] = place
          return { kind: 'late', lost: 0, place }
        }
      }
      const anew = number < LATE_MOST && ahead > LOST_MOST_TO_START
      if (anew || ahead >= SEQUENCE_SPAN / 2) return next(number, REMEMBERED, 'reset', 0)
      return next(number, ahead, 'next', ahead - 1)
    },
  }
}
