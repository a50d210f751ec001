import { expect, test } from 'vitest'
import { addressOf, PLACES, placeIn } from '../../../src/web/app/places.ts'

test('an address tells its place, the same for every specimen that is open there', () => {
  for (const place of PLACES) expect(placeIn(addressOf.place('s1', place))).toBe(`/study/s1/${place}`)
  expect(placeIn(addressOf.specimen('s2', 'x'))).toBe(placeIn(addressOf.specimen('s2', 'y')))
  for (const address of [addressOf.shelf, addressOf.settings, addressOf.import, ''])
    expect(placeIn(address)).toBe(address)
})
