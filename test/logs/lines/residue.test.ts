import { expect, test } from 'vitest'
import { withoutResidue } from '../../../src/logs/lines/split.ts'
import { lines, recordingOf } from '../support.ts'

const ESCAPE = '\u001b'

test('colours for a terminal are no part of a line', () => {
  expect(withoutResidue(`${ESCAPE}[1;32m0.10,${ESCAPE}[0m2.5${ESCAPE}[K\r`)).toBe('0.10,2.5')
})

test('a coloured log reads as the plain one', () => {
  const rows = (force: (n: string) => string) =>
    `time_s,force_N\n${lines(60, i => `${(i / 20).toFixed(2)},${force((i < 30 ? i : 0).toFixed(2))}`)}`
  const plain = recordingOf(rows(n => n))
  const coloured = recordingOf(rows(n => `${ESCAPE}[33m${n}${ESCAPE}[0m`))
  expect(coloured.forceN).toEqual(plain.forceN)
  expect(coloured.timeS).toEqual(plain.timeS)
  expect(coloured.assumptions).toEqual(plain.assumptions)
})

test('a backslash or a lone quote at the end of a line is residue, and nothing else goes with it', () => {
  expect(withoutResidue('  0.10,12.5\\ ')).toBe('0.10,12.5')
  expect(withoutResidue('0.10,12.5 kg, seventeen"')).toBe('0.10,12.5 kg, seventeen')
  expect(withoutResidue('0.10,"a quoted word"')).toBe('0.10,"a quoted word"')
  // A tab at the beginning is an empty first cell.
  expect(withoutResidue('\t0.10')).toBe('\t0.10')
})
