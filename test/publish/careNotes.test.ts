import { expect, test } from 'vitest'
import { HAZARD_CARE, HAZARDS, suggestedHazards } from '../../src/publish/careNotes.ts'

test.each([
  ['Which of three ways to fix a twisted-paper handle to a carrier bag holds best?', []],
  ['How far does a bungee cord stretch?', ['flies']],
  ['Do old bicycle tyres hold?', ['bursts']],
  ['Tear-open force of a juice pouch', ['sprays']],
  ['Pull tabs of lithium batteries', ['ignites']],
  ['Crimped steel wires', ['flies', 'cuts']],
  ['Candle wicks and canvas', []],
])('%s', (words, hazards) => {
  expect(suggestedHazards(words)).toEqual(hazards)
  expect(suggestedHazards(words, true)).toEqual([...hazards, 'long-stroke'])
})

test('each has its caution', () => {
  for (const name of HAZARDS) expect(HAZARD_CARE[name].care).toMatch(/\.$/)
})
