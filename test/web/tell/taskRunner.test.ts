import { expect, test } from 'vitest'
import { type TaskState, taskRunner, type Work } from '../../../src/web/tell/taskRunner.ts'

/** A runner whose states are kept, and one task whose end is in the test's hand. */
function bench() {
  const states: TaskState[] = []
  let stops = 0
  const runner = taskRunner(
    state => states.push(state),
    () => stops++,
  )
  let tell: Parameters<Work>[0]['onProgress'] = () => {}
  let end: () => void = () => {}
  let fail: (error: unknown) => void = () => {}
  const begin = (key: string) =>
    runner.run(key, ({ onProgress }) => {
      tell = onProgress
      return new Promise((resolve, reject) => {
        end = resolve
        fail = reject
      })
    })
  return {
    runner,
    begin,
    tell: (done: number, all: number) => tell(done, all),
    end: () => end(),
    fail: (error: unknown) => fail(error),
    now: () => states.at(-1),
    states,
    stops: () => stops,
  }
}

const settled = () => new Promise(resolve => setTimeout(resolve))

test('tells what runs and how far it is, and that it has ended', async () => {
  const { begin, tell, end, states } = bench()
  begin('film')
  tell(3, 9)
  end()
  await settled()
  expect(states.map(({ running }) => running)).toEqual([
    { key: 'film', done: 0, all: 0 },
    { key: 'film', done: 3, all: 9 },
    null,
  ])
})

test('progress that comes after the end says nothing, and the next task can begin', async () => {
  const { begin, tell, end, now, runner } = bench()
  begin('film')
  end()
  await settled()
  // Progress and result come by two ways: the last progress may come last.
  tell(9, 9)
  expect(now()).toEqual({ running: null, failed: null })
  let isRun = false
  runner.run('next', async () => {
    isRun = true
  })
  expect(isRun).toBe(true)
})

test('progress of a task that was stopped is not taken for that of the next', async () => {
  const { begin, tell, runner, now, stops } = bench()
  begin('film')
  const late = tell
  runner.stop()
  await settled()
  expect(stops()).toBe(1)
  let ends: () => void = () => {}
  runner.run('next', () => new Promise(resolve => (ends = resolve)))
  late(9, 9)
  expect(now()?.running).toEqual({ key: 'next', done: 0, all: 0 })
  ends()
  await settled()
  expect(now()).toEqual({ running: null, failed: null })
})

test('one at a time; to stop nothing does nothing', async () => {
  const { begin, runner, now, stops } = bench()
  runner.stop()
  begin('film')
  runner.run('other', async () => {})
  expect(now()?.running?.key).toBe('film')
  runner.stop()
  await settled()
  expect(now()).toEqual({ running: null, failed: null })
  expect(stops()).toBe(1)
})

test('work that fails, and a thread that dies under it, are told and hold up nothing', async () => {
  const { begin, fail, runner, now } = bench()
  begin('film')
  fail(new Error('no room'))
  await settled()
  expect(now()).toMatchObject({ running: null, failed: { key: 'film', error: new Error('no room') } })
  begin('again')
  expect(runner.fail(new Error('the thread ended'))).toBe(true)
  await settled()
  expect(now()).toMatchObject({ running: null, failed: { key: 'again' } })
  expect(runner.fail(new Error('later'))).toBe(false)
})
