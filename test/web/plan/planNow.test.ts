import { expect, test } from 'vitest'
import { parseRig } from '../../../src/core/calibration/rig.ts'
import { askedOf, keptOrder, usualAsked } from '../../../src/web/plan/asked.ts'
import { planNow, recordedOf } from '../../../src/web/plan/planNow.ts'
import { ran } from '../../cli/fakeIo.ts'
import { good } from '../../store/stores.ts'

const asked = { ...usualAsked(4711), scatterPct: 7, differencePct: 10, power: 0.9 }
const situation = {
  variants: ['hot melt', 'wheat paste', 'stitching'],
  recorded: null,
  rig: null,
  studyName: 'Handles',
  unit: 'N' as const,
}
const byCommand = async (words: readonly string[]) =>
  JSON.parse((await ran(['plan', '--variants', situation.variants.join(','), '--json', ...words])).out)

test('is the document of the command line, to the last digit', async () => {
  const words = ['--scatter', '7%', '--difference', '10%', '--power', '0.9', '--seed', '4711']
  expect(planNow({ ...situation, asked })).toEqual(await byCommand(words))
})

test('with the peak expected it is in the unit shown, and the rig is checked', async () => {
  const rig = good(
    parseRig(
      JSON.stringify({
        cell: { capacityN: 200 },
        converter: { rateHz: 10 },
        strokeMm: 10,
        drive: { mmPerSecond: 0.5 },
      }),
      'rig',
    ),
  )
  const planned = planNow({
    ...situation,
    rig,
    asked: { ...asked, expectedPeakN: 70, extensionMm: 12 },
  })
  expect(planned).toEqual(
    await byCommand([
      '--scatter',
      '7%',
      '--difference',
      '10%',
      '--power',
      '0.9',
      '--seed',
      '4711',
      '--mean',
      '70',
      '--capacity',
      '200',
      '--rate',
      '10',
      '--stroke',
      '10',
      '--speed',
      '0.5',
      '--extension',
      '12',
    ]),
  )
  expect(planned.rig.map(({ check, ok }) => [check, ok])).toContainEqual(['stroke', false])
})

test('takes the scatter of what the study has pulled', () => {
  const recorded = { mean: 70, sd: 7, values: 15, groups: ['a', 'b', 'c'], unit: 'N' }
  const planned = planNow({ ...situation, recorded, asked: { ...asked, scatterPct: null }, unit: 'kgf' })
  expect(planned.unit).toBe('kgf')
  expect(planned.scatter).toMatchObject({ from: 'records', text: 'of 15 values in 3 groups of “Handles”' })
  expect(planned.scatter.cv).toBeCloseTo(0.1, 12)
  expect(planned.perGroup).toBe(planNow({ ...situation, asked: { ...asked, scatterPct: 10 } }).perGroup)
})

test('without records a wish for their scatter falls back to the usual guess', () => {
  expect(planNow({ ...situation, asked: { ...asked, scatterPct: null } }).scatter.from).toBe('guess')
  expect(recordedOf(undefined)).toBeNull()
})

test('a kept plan gives its dials back; rubbish gives the usual, none gives none', () => {
  const kept = JSON.parse(JSON.stringify({ ...planNow({ ...situation, asked }), asked }))
  expect(askedOf(kept)).toEqual(asked)
  expect(askedOf(null)).toBeNull()
  expect(askedOf({ document: 'tenterhook.plan' })).toBeNull()
  const odd = {
    quantity: 'beauty',
    scatterPct: -1,
    differencePct: 'x',
    power: 7,
    each: 1.5,
    seed: -3,
    hazards: ['flies', 'sings'],
  }
  expect(askedOf({ asked: odd })).toEqual({ ...usualAsked(1), hazards: ['flies'] })
})

test('a kept plan gives its blocks and its number; rubbish gives none', () => {
  const planned = planNow({ ...situation, asked })
  expect(keptOrder(planned)).toEqual({ blocks: planned.blocks, perGroup: planned.perGroup })
  expect(keptOrder({ blocks: 'x', perGroup: 3 })).toBeNull()
  expect(keptOrder(null)).toBeNull()
})

test('within days it is the plan of the command line, for a difference and from the control', async () => {
  const words = [
    '--scatter',
    '7%',
    '--difference',
    '10%',
    '--power',
    '0.9',
    '--seed',
    '4711',
    '--per-block',
    '2',
  ]
  const inDays = { ...asked, perBlock: 2 }
  expect(planNow({ ...situation, asked: inDays })).toEqual(await byCommand(words))
  expect(planNow({ ...situation, asked: { ...inDays, goal: 'control', reactsPct: 2 } })).toEqual(
    await byCommand([...words, '--against-control', '--reacts', '2%']),
  )
  // A proof has no days.
  expect(planNow({ ...situation, asked: { ...inDays, goal: 'proof' } }).goals[0]!.goal).toBe('proof')
})

test('what was asked within days is kept, and what is no number is not', () => {
  expect(askedOf({ asked: { ...asked, perBlock: 3, reactsPct: 4 } })).toMatchObject({
    perBlock: 3,
    reactsPct: 4,
  })
  expect(askedOf({ asked: { ...asked, perBlock: 2.5, reactsPct: -1 } })).toMatchObject({
    perBlock: null,
    reactsPct: null,
  })
})
