import { expect, test } from 'vitest'
import { watchSequence } from '../../../src/capture/timing/sequence.ts'

/** `n` next, `r` repeated, `l` late, `R` reset; a figure before `n` is how many were lost. */
function findings(numbers: readonly (number | 'restart')[]): string {
  const watch = watchSequence()
  return numbers
    .map(number => {
      if (number === 'restart') {
        watch.restart()
        return ''
      }
      const { kind, lost } = watch.see(number)
      if (kind === 'next') return `${lost || ''}n`
      return kind === 'repeated' ? 'r' : kind === 'late' ? 'l' : 'R'
    })
    .join('')
}

const cases: readonly [title: string, numbers: readonly (number | 'restart')[], told: string][] = [
  ['in order', [5, 6, 7], 'nnn'],
  ['wrap-round', [65534, 65535, 0, 1], 'nnnn'],
  ['lost', [5, 9, 10], 'n3nn'],
  ['lost over the wrap-round', [65535, 2], 'n2n'],
  ['repeated', [5, 6, 6, 7], 'nnrn'],
  ['one repeated after newer ones', [5, 6, 7, 6, 8], 'nnnrn'],
  ['late', [5, 7, 6, 8], 'n1nln'],
  ['late, and again', [5, 7, 6, 6, 8], 'n1nlrn'],
  ['a device that started anew', [40000, 40001, 0, 1], 'nnRn'],
  ['a device that said so, soon after its start', [0, 1, 2, 'restart', 0, 1], 'nnnRn'],
  ['a device that said so at the very beginning', ['restart', 0, 1], 'nn'],
]
for (const [title, numbers, told] of cases) test(title, () => expect(findings(numbers)).toBe(told))

test('places rise over a reset, and a late one stands before the newer', () => {
  const watch = watchSequence()
  const places = [5, 7, 6, 40_000, 0].map(number => watch.see(number).place)
  expect(places[2]).toBe(places[1]! - 1)
  expect(places[4]).toBeGreaterThan(places[3]!)
})
