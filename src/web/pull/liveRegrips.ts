import { betweenPulls } from '../../core/reading/selvedge.ts'
import type { LiveReading } from '../../server/apiTypes.ts'
import type { Band } from '../parts/curve/types.ts'

/** Between two pulls that were read: rest where a zero was taken, and re-gripping beside it, as the reading tells them. */
export function withRegrips(bands: readonly Band[], live: LiveReading | null): Band[] {
  if (!live?.reading?.events.some(({ kind }) => kind === 'regrip')) return [...bands]
  const { reading, toLiveS } = live
  return bands.flatMap(band => {
    if (band.kind !== 'rest') return [band]
    const middle = (band.from + band.to) / 2 - toLiveS
    const at = reading.pulls.findIndex(({ endS }, i) => {
      const next = reading.pulls[i + 1]
      return next !== undefined && endS <= middle && next.startS >= middle
    })
    const [before, after] = [reading.pulls[at], reading.pulls[at + 1]]
    if (!before || !after) return [band]
    // The strip's own ends hold: those of the pulls differ from them by a sample or two.
    return betweenPulls(reading, before.endS, after.startS)
      .map(({ kind, fromS, toS }, i, all) => ({
        kind,
        from: i === 0 ? band.from : fromS + toLiveS,
        to: i === all.length - 1 ? band.to : toS + toLiveS,
      }))
      .filter(({ from, to }) => to > from)
  })
}
