import { expect, test } from 'vitest'
import { settingsFrom } from '../../../src/web/app/settings.tsx'
import { movedUnit } from '../../../src/web/settings/unitList.ts'

test('a unit moves by one place, and stays at the ends', () => {
  expect(movedUnit(['N', 'kgf', 'lbf'], 'kgf', -1)).toEqual(['kgf', 'N', 'lbf'])
  expect(movedUnit(['N', 'kgf', 'lbf'], 'kgf', 1)).toEqual(['N', 'lbf', 'kgf'])
  expect(movedUnit(['N', 'kgf'], 'N', -1)).toEqual(['N', 'kgf'])
  expect(movedUnit(['N', 'kgf'], 'kgf', 1)).toEqual(['N', 'kgf'])
  expect(movedUnit(['N'], 'lbf', 1)).toEqual(['N'])
})

test('familiar weights that make no sense are passed over', () =>
  expect(
    settingsFrom({
      equivalents: [
        { name: 'brick', plural: '', massKg: 2.3 },
        { name: '', plural: '', massKg: 1 },
        { name: 'air', plural: '', massKg: 0 },
        { name: 'x', massKg: 1 },
        null,
      ],
    }).equivalents,
  ).toEqual([{ name: 'brick', plural: '', massKg: 2.3 }]))
