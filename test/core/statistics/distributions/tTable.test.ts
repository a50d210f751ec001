import { expect, test } from 'vitest'
import { tCdf } from '../../../../src/core/statistics/distributions/t.ts'
import { tabulatedT } from '../../../../src/core/statistics/distributions/tTable.ts'

test.each([1, 1.3, 2, 2.5, 4, 10, 31.7, 79, 80, 500, 1e5])(
  'the table of %s degrees of freedom is t to 1e-7',
  df => {
    const cdf = tabulatedT(df)
    for (let t = -60; t <= 60; t += 0.037) expect(Math.abs(cdf(t) - tCdf(t, df))).toBeLessThan(1e-7)
  },
)
