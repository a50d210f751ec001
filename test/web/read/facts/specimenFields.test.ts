import { expect, test } from 'vitest'
import type { Specimen } from '../../../../src/server/apiTypes.ts'
import { specimenPatchSchema } from '../../../../src/server/requests.ts'
import {
  NUMBER_FIELDS,
  type NumberField,
  typedFigure,
} from '../../../../src/web/read/facts/specimenFields.ts'

const specimen = { widthMm: 90, elements: null, temperatureC: null } as Specimen

test('empty means not known, and the same figure is no change', () => {
  expect(typedFigure(specimen, 'widthMm', ' ')).toEqual({ kind: 'changed', patch: { widthMm: null } })
  expect(typedFigure(specimen, 'widthMm', '90,0')).toEqual({ kind: 'same' })
  expect(typedFigure(specimen, 'temperatureC', '−4,5')).toEqual({
    kind: 'changed',
    patch: { temperatureC: -4.5 },
  })
})

test('what cannot stand in a field is told', () => {
  for (const [field, text] of [
    ['widthMm', '0'],
    ['widthMm', 'wide'],
    ['elements', '2.5'],
    ['humidityPct', '101'],
    ['temperatureC', '-300'],
  ] as const)
    expect(typedFigure(specimen, field, text)).toEqual({ kind: 'wrong' })
})

test('whatever a field lets through, the server takes too', () => {
  const tried = ['-1', '0', '0.5', '1', '3', '50', '100', '101', '1000', '99999', '1e9']
  for (const field of Object.keys(NUMBER_FIELDS) as NumberField[])
    for (const text of tried) {
      const figure = typedFigure(specimen, field, text)
      if (figure.kind === 'changed')
        expect(specimenPatchSchema.safeParse(figure.patch).success, `${field} ${text}`).toBe(true)
    }
})
