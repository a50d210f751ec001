import { describe, expect, test } from 'vitest'
import {
  type CaptureEvent,
  type CaptureState,
  type EndRule,
  nextState,
  WAITING,
} from '../../src/capture/state.ts'

const ONE_PULL: EndRule = { pullsExpected: 1, finishAfterRestS: null }

/** Runs commands and a sketch of the force: `_` free, `#` over the threshold, each for `stepS`. */
function stateAfter(
  steps: readonly (string | CaptureEvent)[],
  rule: EndRule = ONE_PULL,
  stepS = 0.1,
): CaptureState {
  let state = WAITING
  let atS = 0
  for (const step of steps) {
    if (typeof step !== 'string') {
      state = nextState(state, { ...step, atS }, rule)
      continue
    }
    for (const sign of step) {
      atS += stepS
      state = nextState(state, { kind: 'sample', atS, over: sign === '#' }, rule)
    }
  }
  return state
}
const arm: CaptureEvent = { kind: 'arm', atS: 0 }
const start: CaptureEvent = { kind: 'start', atS: 0 }
const finish: CaptureEvent = { kind: 'finish', atS: 0 }
const giveUp: CaptureEvent = { kind: 'give-up', atS: 0, reason: 'grip broke' }
const PULL = '########' // 0.8 s
const REST = '______' // 0.6 s

describe('the state machine', () => {
  const cases: readonly [
    title: string,
    steps: readonly (string | CaptureEvent)[],
    phase: CaptureState['phase'],
    pulls: number,
  ][] = [
    ['waits, whatever the force does', [PULL, REST], 'waiting', 0],
    ['armed, is begun by force', [arm, '__##'], 'recording', 0],
    ['armed, is not begun by one sample alone', [arm, '__#__#__'], 'armed', 0],
    ['is begun by hand', [start], 'recording', 0],
    ['begun by hand while armed', [arm, '__', start], 'recording', 0],
    ['a pull counts once it has lasted', [start, PULL], 'recording', 1],
    ['a knock is no pull and leaves it recording', [start, '___###______'], 'recording', 0],
    ['the first break does not end it', [start, PULL, REST], 'rest', 1],
    ['a short fall under the threshold is no rest', [start, `${PULL}_${PULL}`], 'recording', 1],
    ['the next pull follows from rest', [start, PULL, REST, PULL], 'recording', 2],
    ['rest follows each pull', [start, PULL, REST, PULL, REST], 'rest', 2],
    ['never finishes by itself unless asked to', [start, PULL, REST.repeat(100)], 'rest', 1],
    ['finishes by hand while recording', [start, PULL, finish], 'finished', 1],
    ['finishes by hand at rest', [start, PULL, REST, finish], 'finished', 1],
    ['is given up while recording', [start, PULL, giveUp], 'given-up', 1],
    ['is given up while armed', [arm, giveUp], 'given-up', 0],
    ['finish without a recording changes nothing', [finish], 'waiting', 0],
    ['disarms', [arm, { kind: 'disarm', atS: 0 }], 'waiting', 0],
    ['cannot be disarmed while recording', [start, { kind: 'disarm', atS: 0 }], 'recording', 0],
    ['cannot be armed while recording', [start, PULL, arm], 'recording', 1],
    ['begins the next after the last has finished', [start, PULL, finish, arm, '__##'], 'recording', 0],
    ['force after the end changes nothing', [start, PULL, finish, PULL], 'finished', 1],
  ]
  for (const [title, steps, phase, pulls] of cases)
    test(title, () => expect(stateAfter(steps)).toMatchObject({ phase, pulls }))

  test('finishes by itself if asked to, so long after the pull', () => {
    const rule: EndRule = { pullsExpected: 1, finishAfterRestS: 2 }
    expect(stateAfter([start, PULL, '_'.repeat(19)], rule).phase).toBe('rest')
    expect(stateAfter([start, PULL, '_'.repeat(25)], rule)).toMatchObject({
      phase: 'finished',
      endedBy: 'rest',
    })
  })
  test('never finishes by itself while the plan expects a later pull', () => {
    const rule: EndRule = { pullsExpected: 2, finishAfterRestS: 2 }
    expect(stateAfter([start, PULL, '_'.repeat(1000)], rule).phase).toBe('rest')
    expect(stateAfter([start, PULL, REST, PULL, '_'.repeat(25)], rule).phase).toBe('finished')
  })
  test('a recording without a pull never finishes by itself', () =>
    expect(stateAfter([start, '_'.repeat(1000)], { pullsExpected: 1, finishAfterRestS: 1 }).phase).toBe(
      'recording',
    ))
  test('a knock at rest puts off the finish', () => {
    const rule: EndRule = { pullsExpected: 1, finishAfterRestS: 2 }
    expect(stateAfter([start, PULL, '_'.repeat(17), '###', '_'], rule).phase).toBe('rest')
  })
  test('gives the same object while nothing changes', () => {
    const state = stateAfter([start, PULL])
    expect(nextState(state, { kind: 'sample', atS: 99, over: true }, ONE_PULL)).toBe(state)
  })
})
