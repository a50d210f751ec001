import { expect, test } from 'vitest'
import { addressOf, PLACES, studyIn } from '../../../src/web/app/places.ts'

test('an address tells its study, in every place, and that it lies in none', () => {
  for (const place of PLACES) expect(studyIn(addressOf.place('s1', place))).toBe('s1')
  expect(studyIn(addressOf.specimen('s2', 'x'))).toBe('s2')
  for (const address of [addressOf.shelf, addressOf.settings, addressOf.import, ''])
    expect(studyIn(address)).toBeNull()
})
