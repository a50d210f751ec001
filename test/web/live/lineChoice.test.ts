import fc from 'fast-check'
import { expect, test } from 'vitest'
import { lineSchema } from '../../../src/server/requests.ts'
import { choiceFrom, type LineChoice, lineOf, USUAL_CHOICE } from '../../../src/web/live/lineChoice.ts'

const choice = (part: Partial<LineChoice>): LineChoice => ({ ...USUAL_CHOICE, ...part })

test.each<[Partial<LineChoice>, object]>([
  [
    { path: ' /dev/ttyUSB0 ' },
    { source: { kind: 'serial', path: '/dev/ttyUSB0' }, capacityN: null, rigId: null },
  ],
  [
    { path: 'COM3', baud: '57600', capacityN: '490,5', unit: 'kg', rigId: 'r1' },
    {
      source: { kind: 'serial', path: 'COM3', baud: 57600 },
      capacityN: 490.5,
      rigId: 'r1',
      log: { unit: 'kgf' },
    },
  ],
  [
    { kind: 'tcp', host: '192.168.4.1' },
    { source: { kind: 'tcp', host: '192.168.4.1', port: 3333 }, capacityN: null, rigId: null },
  ],
  [
    { kind: 'page', baud: '9600' },
    { source: { kind: 'page', name: 'not open yet', baud: 9_600 }, capacityN: null, rigId: null },
  ],
  [
    { kind: 'pretend', seed: '7' },
    { source: { kind: 'pretend', pull: 'saw-tooth', seed: 7 }, capacityN: null, rigId: null },
  ],
])('%j asks for a line that the server takes', (part, line) => {
  const made = lineOf(choice(part))
  expect(made).toEqual({ line })
  expect('line' in made && lineSchema.safeParse(made.line).success).toBe(true)
})

test.each<[Partial<LineChoice>, readonly string[]]>([
  [{}, ['path']],
  [{ path: 'x', baud: 'fast' }, ['baud']],
  [{ kind: 'tcp', port: '70000' }, ['host', 'port']],
  [{ path: 'x', capacityN: '-5', unit: 'stone' }, ['capacityN', 'unit']],
])('%j names the fields that cannot be so', (part, faults) => {
  expect(lineOf(choice(part))).toEqual({ faults })
})

test('whatever this browser kept gives a choice, and what it kept itself comes back', () => {
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.json()), kept => {
      expect(Object.keys(choiceFrom(kept)).sort()).toEqual(Object.keys(USUAL_CHOICE).sort())
    }),
  )
  const mine = choice({ kind: 'tcp', host: 'rig.local', rigId: 'r1' })
  expect(choiceFrom(JSON.stringify(mine))).toEqual(mine)
})
