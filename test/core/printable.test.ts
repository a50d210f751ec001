import fc from 'fast-check'
import { expect, test } from 'vitest'
import { printable } from '../../src/core/printable.ts'

test.each([
  ['plain text stays', 'Kraft 12,5 kN – Prüfling №3', 'Kraft 12,5 kN – Prüfling №3'],
  ['an escape sequence loses its escape', 'a\u001b[2Jb', 'a␛[2Jb'],
  ['a bell, a null and a C1 control go', 'x\u0007\u0000\u009by', 'x␇␀�y'],
  ['marks that turn the direction go', 'gpj\u202efdp', 'gpj�fdp'],
  ['line breaks of any kind go', 'a\nb\rc\u2028d', 'a␊b␍c�d'],
  ['half a surrogate pair goes', 'a\ud800b', 'a�b'],
])('%s', (_rule, given, expected) => expect(printable(given)).toBe(expected))

test('long text is cut with an ellipsis, never inside a character', () => {
  expect(printable('😀'.repeat(5), 3)).toBe('😀😀…')
})

test('no text can bring a control character through, nor grow past its limit', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), fc.integer({ min: 1, max: 80 }), (text, most) => {
      const shown = printable(text, most)
      expect(shown).not.toMatch(/\p{Cc}/u)
      expect(Array.from(shown).length).toBeLessThanOrEqual(most)
    }),
    { seed: 11 },
  )
})
