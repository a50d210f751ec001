import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  type Act,
  actOf,
  KEYS,
  type Key,
  MOMENTS,
  type Moment,
  momentOf,
  type Situation,
} from '../../../src/web/pull/moments.ts'

const _ = 'nothing'
/** Every cell, as the person at the bench may count on it. Columns are `KEYS` in their order. */
const CELLS: Readonly<Record<Moment, readonly Act[]>> = {
  //              go           escape        escape-held   note    zero        turn    turn-back    speak    redo    spoil    pull-on
  away: [_, _, _, _, _, _, _, _, _, _, _],
  'no-line': ['open-line', _, _, _, _, _, _, _, _, _, _],
  'line-lost': [_, _, _, _, _, _, _, _, _, _, _],
  'no-specimen': [_, _, _, _, 'ask-zero', _, _, 'speak', _, _, _],
  ready: ['arm', _, _, _, 'ask-zero', _, _, 'speak', _, _, _],
  loaded: ['say-load', _, _, _, 'ask-zero', _, _, 'speak', _, _, _],
  'asking-zero': ['take-zero', 'leave-zero', 'leave-zero', _, _, _, _, 'speak', _, _, _],
  armed: [_, 'disarm', 'disarm', 'note', 'ask-zero', 'turn', 'turn-back', 'speak', _, _, _],
  slack: [_, 'say-hold', 'give-up', 'note', 'ask-zero', 'turn', 'turn-back', 'speak', _, _, _],
  pulling: ['say-load', 'say-hold', 'give-up', 'note', 'say-load', 'turn', 'turn-back', 'speak', _, _, _],
  'let-go': ['finish', 'say-hold', 'give-up', 'note', 'ask-zero', 'turn', 'turn-back', 'speak', _, _, _],
  ended: ['keep', _, _, _, _, _, _, 'speak', 'redo', 'spoil', 'pull-on'],
}

test.each(MOMENTS.flatMap(moment => KEYS.map((key, i) => [moment, key, CELLS[moment][i]] as const)))(
  'at “%s” the key “%s” does: %s',
  (moment, key, act) => {
    expect(actOf(moment, key)).toBe(act)
  },
)

const situations = fc.record<Situation>({
  isAway: fc.boolean(),
  line: fc.constantFrom('open', 'lost', 'closed', null),
  phase: fc.constantFrom('waiting', 'armed', 'recording', 'rest', 'finished', 'given-up', null),
  pulls: fc.nat(3),
  isPulling: fc.boolean(),
  isLoaded: fc.boolean(),
  isAskingZero: fc.boolean(),
  hasEnded: fc.boolean(),
  hasSpecimen: fc.boolean(),
})
const ENDS: readonly Act[] = ['finish', 'keep', 'redo', 'spoil', 'disarm']

test('under load no tap of a key zeroes or ends a recording, whatever else holds', () => {
  fc.assert(
    fc.property(situations, fc.constantFrom(...KEYS), (now, key) => {
      const isKeeping = now.phase === 'recording' || now.phase === 'rest'
      if (now.isAway || now.line === null || !isKeeping || !(now.isLoaded || now.isPulling)) return
      const act = actOf(momentOf(now), key)
      expect(ENDS).not.toContain(act)
      expect(['take-zero', 'ask-zero', 'arm']).not.toContain(act)
      if (act === 'give-up') expect(key satisfies Key).toBe('escape-held')
    }),
  )
})

test('the key that goes on never arms under load', () => {
  fc.assert(
    fc.property(situations, now => {
      if (now.isLoaded) expect(actOf(momentOf(now), 'go')).not.toBe('arm')
    }),
  )
})

const READY: Situation = {
  isAway: false,
  line: 'open',
  phase: 'waiting',
  pulls: 0,
  isPulling: false,
  isLoaded: false,
  isAskingZero: false,
  hasEnded: false,
  hasSpecimen: true,
}
test.each<[Moment, Partial<Situation>]>([
  ['ready', {}],
  ['away', { isAway: true, phase: 'recording' }],
  ['no-line', { line: null }],
  ['no-line', { line: 'closed' }],
  ['line-lost', { line: 'lost' }],
  ['no-specimen', { hasSpecimen: false }],
  ['loaded', { isLoaded: true }],
  ['asking-zero', { isAskingZero: true, isLoaded: true }],
  ['armed', { phase: 'armed' }],
  ['asking-zero', { phase: 'armed', isAskingZero: true }],
  ['slack', { phase: 'recording' }],
  ['pulling', { phase: 'recording', isPulling: true }],
  ['pulling', { phase: 'recording', isPulling: true, isAskingZero: true }],
  ['pulling', { phase: 'rest', pulls: 1, isLoaded: true }],
  ['pulling', { phase: 'recording', isPulling: true, line: 'lost' }],
  ['let-go', { phase: 'rest', pulls: 1 }],
  ['let-go', { phase: 'rest', pulls: 1, line: 'closed' }],
  ['ended', { phase: 'finished', hasEnded: true }],
  ['ended', { phase: 'finished', hasEnded: true, line: null }],
  ['ready', { phase: 'finished' }],
  ['ready', { phase: 'given-up' }],
])('it is “%s” when %j', (moment, now) => {
  expect(momentOf({ ...READY, ...now })).toBe(moment)
})
