import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Ledger, ledgerAmounts } from '../../../src/core/reading/explainLedger.ts'

const line = (amountN: number) => ({ amountN, text: `${amountN}` })
const half = (halfWidthN: number) => ({ halfWidthN, text: 'noise' })

test('amounts stand to the digits of the whole doubt, signs apart', () => {
  const ledger: Ledger = {
    lines: [line(52.95), line(8.36), line(-0.0034)],
    totalN: 61.3066,
    halfWidths: [half(0.113), half(0.087), half(0.026)],
  }
  expect(ledgerAmounts(ledger, 'N')).toEqual({
    lines: [
      { sign: '', amount: '52.95', text: '52.95' },
      { sign: '+', amount: '8.36', text: '8.36' },
      { sign: '−', amount: '0.00', text: '-0.0034' },
    ],
    total: '61.31',
    halfWidths: ['0.11', '0.09', '0.03'].map(amount => ({ amount, text: 'noise' })),
  })
})

test('without a doubt, three digits; a first amount below nought keeps its sign', () => {
  const ledger: Ledger = { lines: [line(-1.2345), line(13.3)], totalN: 12.0655, halfWidths: [] }
  expect(ledgerAmounts(ledger, 'N')).toEqual({
    lines: [
      { sign: '−', amount: '1.23', text: '-1.2345' },
      { sign: '+', amount: '13.3', text: '13.3' },
    ],
    total: '12.1',
    halfWidths: [],
  })
})

test('what is shown adds up, but for the rounding of each line', () =>
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -500, max: 500, noNaN: true }), { minLength: 1, maxLength: 6 }),
      fc.double({ min: 0.01, max: 50, noNaN: true }),
      fc.constantFrom('N', 'kgf', 'gf', 'lbf'),
      (amountsN, halfN, unit) => {
        const totalN = amountsN.reduce((sum, n) => sum + n, 0)
        const { lines, total } = ledgerAmounts(
          { lines: amountsN.map(line), totalN, halfWidths: [half(halfN)] },
          unit,
        )
        const lastDigit = 10 ** -(total.split('.')[1]?.length ?? 0)
        const shown = lines.reduce(
          (sum, { sign, amount }) => sum + (sign === '−' ? -1 : 1) * Number(amount),
          0,
        )
        expect(Math.abs(shown - Number(total.replace('−', '-')))).toBeLessThanOrEqual(
          (lines.length + 1) * lastDigit * 0.5 + 1e-9,
        )
      },
    ),
  ))
