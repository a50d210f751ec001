import { expect, test } from 'vitest'
import { lengthSeconds, seconds } from '../../src/cli/publish/seconds.ts'

test.each([
  ['12.5', 12.5],
  ['-3', -3],
  ['−0.25', -0.25],
  ['+4 s', 4],
  ['1:02.5', 62.5],
  ['-1:02', -62],
  ['1:00:01,25', 3601.25],
  ['-0', 0],
])('%s is %f s', (word, s) => expect(seconds(word)).toBe(s))

test.each(['', 'soon', '1:2:3:4', '1e3', '--5', 'NaN', '12.5.1'])('“%s” is no time', word =>
  expect(() => seconds(word)).toThrow('It must be seconds'),
)

test('a length is above 0', () => expect(() => lengthSeconds('0')).toThrow('above 0'))
