import { expect, test } from 'vitest'
import { quotedCell, safeCell } from '../../../src/logs/write/safeCell.ts'

// What begins a formula, and why other delimiters count: OWASP, "CSV Injection"
// (https://owasp.org/www-community/attacks/CSV_Injection).
test.each([
  ['=1+1', `'=1+1`],
  ['+1', `'+1`],
  ['-1', `'-1`],
  ['@SUM(A1)', `'@SUM(A1)`],
  ['＝1+1', `'＝1+1`],
  ['\tx', `'\tx`],
  ['\r=x', `'\r'=x`],
  ['  =1', `'  =1`],
  ['slow; =cmd()', `slow;' =cmd()`],
  ['two\n-lines', `two\n'-lines`],
  ['plain', 'plain'],
  ['a-b = c', 'a-b = c'],
  ['', ''],
])('%j is made %j', (text, safe) => {
  expect(safeCell(text)).toBe(safe)
})

test('A cell is quoted where the table needs it', () => {
  expect(quotedCell('a,b', ',')).toBe('"a,b"')
  expect(quotedCell('a,b', ';')).toBe('a,b')
  expect(quotedCell('say "so"', ',')).toBe('"say ""so"""')
})
