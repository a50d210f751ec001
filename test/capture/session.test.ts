import { expect, test } from 'vitest'
import { capturedFrom } from '../../src/capture/captured.ts'
import {
  type Captured,
  type LiveMessage,
  NO_PLAN,
  openSession,
  type Session,
} from '../../src/capture/index.ts'
import { readSoFar } from '../../src/capture/journal/soFar.ts'
import { pretendLines } from '../../src/capture/pretend/index.ts'
import { readRecording } from '../../src/core/index.ts'
import { type HandSource, handSource } from './handSource.ts'
import { journaled, leftIn, whole } from './journaled.ts'
import { type MemoryFiles, memoryFiles } from './memoryFiles.ts'

interface Bench {
  readonly session: Session
  readonly line: HandSource
  readonly files: MemoryFiles
  readonly told: LiveMessage[]
  /** Lets the session's clock run on. */
  pass(seconds: number): void
}

async function bench(options: { log?: object; capacityN?: number; askRateHz?: number } = {}): Promise<Bench> {
  const line = handSource()
  const files = memoryFiles()
  let nowS = 100
  let wallMs = Date.UTC(2026, 0, 2)
  const clock = { nowS: () => nowS, wall: () => new Date(wallMs) }
  const opened = await openSession({ source: line, journals: '/j', files, clock, ...options })
  if (!opened.ok) throw new Error(opened.problems[0]?.what)
  const told: LiveMessage[] = []
  opened.value.subscribe(message => told.push(message))
  return {
    session: opened.value,
    line,
    files,
    told,
    pass(seconds) {
      nowS += seconds
      // The wall clock jumps about; nothing may depend on it.
      wallMs += 1000 * seconds + (Math.round(nowS) % 2 === 0 ? 3.6e6 : -3.6e6)
    },
  }
}

/** Says `force(t)` as `millis,force kg` at 100 Hz for a while. */
function pull({ line, pass }: Bench, fromS: number, toS: number, force: (t: number) => number): void {
  for (let i = Math.round(fromS * 100); i < Math.round(toS * 100); i++) {
    pass(0.01)
    line.say(`${i * 10},${(force(i / 100) + 0.01 * (i % 3)).toFixed(2)}kg\n`)
  }
}

const ok = <T>(outcome: { ok: true; value: T } | { ok: false; problems: readonly { what: string }[] }): T => {
  if (!outcome.ok) throw new Error(outcome.problems[0]?.what)
  return outcome.value
}
const phases = (told: readonly LiveMessage[]): string[] =>
  told.flatMap(message => (message.kind === 'state' ? [message.state.phase] : []))

test('armed, begins by force and keeps what came before; the live result is the batch reading of the same samples', async () => {
  const b = await bench()
  pull(b, 0, 4, () => 0)
  ok(await b.session.arm({ ...NO_PLAN, keepBeforeS: 2 }))
  pull(b, 4, 6, () => 0)
  pull(b, 6, 9, t => 10 * (t - 6))
  pull(b, 9, 11, () => 0)
  const captured = whole(await b.session.finish())
  expect(phases(b.told)).toEqual(['armed', 'recording', 'recording', 'rest', 'finished'])
  const { timeS, forceN, forceUnit } = captured.recording
  expect(forceUnit).toBe('kgf')
  // Two seconds from before the force rose at 6 s.
  expect(timeS[0]).toBeCloseTo(4, 0)
  expect(Math.max(...forceN)).toBeCloseTo(29.91 * 9.80665, 0)
  expect(ok(captured.reading)).toEqual(readRecording(captured.recording, { elements: null, capacityN: null }))
  expect(ok(captured.reading).results.peakForce.status).toBe('measured')
  const event = b.told.filter(m => m.kind === 'event').at(-1)
  expect(event).toMatchObject({ event: { kind: 'break', settled: true } })
})

test('the first break never ends it; a later pull of the same specimen has its own peak', async () => {
  const b = await bench()
  pull(b, 0, 1, () => 0)
  ok(await b.session.start(NO_PLAN))
  pull(b, 1, 3, t => 20 * (t - 1))
  pull(b, 3, 5, () => 0)
  ok(b.session.zero())
  pull(b, 5, 7, t => 8 * (t - 5))
  const { figures, state } = b.session.snapshot()
  expect(state).toMatchObject({ phase: 'recording', pulls: 2 })
  expect(figures.peakN).toBeCloseTo(39.9 * 9.80665, -1)
  expect(figures.pullPeakN).toBeCloseTo(15.9 * 9.80665, -1)
  pull(b, 7, 9, () => 0)
  const captured = whole(await b.session.finish())
  expect(ok(captured.reading).pulls).toHaveLength(2)
  expect(captured.recording.notes.map(note => note.text)).toContain('zero taken by the operator')
})

test('finishes by itself when asked to, and not before the last pull of the plan', async () => {
  const b = await bench()
  pull(b, 0, 1, () => 0)
  ok(await b.session.start({ ...NO_PLAN, pullsExpected: 2, finishAfterRestS: 1 }))
  pull(b, 1, 3, t => 20 * (t - 1))
  pull(b, 3, 8, () => 0)
  expect(b.session.snapshot().state.phase).toBe('rest')
  pull(b, 8, 10, t => 20 * (t - 8))
  pull(b, 10, 13, () => 0)
  expect(b.session.snapshot().state).toMatchObject({ phase: 'finished', endedBy: 'rest' })
  const captured = await new Promise<Captured>(resolve => {
    b.session.subscribe(message => message.kind === 'captured' && resolve(message.captured))
  })
  expect(captured.how).toBe('finished')
})

test('an indicator zeroed under load: the peak is corrected at the first rest', async () => {
  const b = await bench()
  pull(b, 0, 1, () => 0)
  ok(await b.session.arm(NO_PLAN))
  pull(b, 1, 2, () => 0)
  pull(b, 2, 4, t => 10 * (t - 2))
  expect(b.session.snapshot().figures.peakN).toBeCloseTo(19.9 * 9.80665, -1)
  pull(b, 4, 6, () => -5)
  expect(b.session.snapshot().figures.peakN).toBeCloseTo(24.9 * 9.80665, -1)
})

test('tension counted negative: the live figures are turned as the reading is, and that is told', async () => {
  for (const armed of [true, false]) {
    const b = await bench()
    pull(b, 0, 1, () => 0)
    ok(await (armed ? b.session.arm(NO_PLAN) : b.session.start(NO_PLAN)))
    pull(b, 1, 2, () => 0)
    pull(b, 2, 4, t => -10 * (t - 2))
    const { figures, state, curve } = b.session.snapshot()
    expect(state).toMatchObject({ phase: 'recording', pulls: 1, pulling: true })
    expect(figures.forceN).toBeCloseTo(19.9 * 9.80665, -1)
    expect(figures.peakN).toBeCloseTo(19.9 * 9.80665, -1)
    expect(figures.rateNPerS).toBeCloseTo(10 * 9.80665, -1)
    expect(Math.max(...curve.highN)).toBeCloseTo(19.9 * 9.80665, -1)
    pull(b, 4, 6, () => 0)
    const captured = whole(await b.session.finish())
    const peakN = ok(captured.reading).results.peakForce.valueN!
    expect(Math.abs(b.session.snapshot().figures.peakN! - peakN)).toBeLessThan(1)
    expect(b.told.filter(m => m.kind === 'event').at(-1)).toMatchObject({ event: { kind: 'break' } })
    const turned = b.told.filter(m => m.kind === 'note' && m.text.includes('tension'))
    expect(turned).toHaveLength(1)
  }
})

test('what was told before the sign turned is taken back: turned, after the last samples, and the curve has the new sign', async () => {
  const b = await bench()
  pull(b, 0, 1, () => 0)
  ok(await b.session.start(NO_PLAN))
  pull(b, 1, 2, () => 0)
  pull(b, 2, 3, t => -10 * (t - 2))
  const turned = b.told.findIndex(m => m.kind === 'turned')
  expect(b.told[turned]).toEqual({ kind: 'turned', sign: -1 })
  const before = b.told.slice(0, turned).findLast(m => m.kind === 'samples')
  const lastS = before?.kind === 'samples' ? (before.batch.timeS.at(-1) ?? 0) : 0
  const { curve, figures } = b.session.snapshot()
  // All that was told until then stands in the curve too, turned.
  expect(curve.timeS.at(-1)).toBeGreaterThanOrEqual(lastS)
  expect(Math.min(...curve.lowN)).toBeGreaterThan(-0.1 * 9.80665)
  expect(Math.max(...curve.highN)).toBeCloseTo(figures.peakN ?? 0, -1)
})

test('armed just after the level at rest has shifted: the shift is no tug, and the next one begins it', async () => {
  const b = await bench()
  pull(b, 0, 2, () => 0)
  ok(await b.session.arm(NO_PLAN))
  pull(b, 2, 3, () => 0)
  ok(b.session.disarm())
  pull(b, 3, 3.25, () => 5)
  ok(await b.session.arm(NO_PLAN))
  pull(b, 3.25, 4.5, () => 5)
  const { state, figures } = b.session.snapshot()
  expect(state.phase).toBe('armed')
  expect(figures.zeroN).toBeCloseTo(5 * 9.80665, 0)
  pull(b, 4.5, 5, t => 5 + 20 * (t - 4.5))
  expect(b.session.snapshot().state).toMatchObject({ phase: 'recording', startedBy: 'force' })
})

test('further columns are told live, kept in the journal, and stand in the recording', async () => {
  const b = await bench()
  b.line.say('time_ms,force_N,travel_cm,temp_C\n')
  const say = (from: number, to: number): void => {
    for (let i = from; i < to; i++) {
      b.pass(0.01)
      b.line.say(`${i * 10},${(i / 10).toFixed(2)},${(i / 100).toFixed(2)},${i === 30 ? '' : 20 + (i % 2)}\n`)
    }
  }
  say(0, 20)
  ok(await b.session.start({ ...NO_PLAN, keepBeforeS: 0.1 }))
  say(20, 100)
  const { figures } = b.session.snapshot()
  expect(figures).toMatchObject({ travelMm: expect.closeTo(9.9), extensionMm: null })
  expect(figures.channels).toMatchObject([
    { kind: 'travel', unit: 'mm', value: expect.closeTo(9.9) },
    { kind: 'temperature', value: 21 },
  ])
  const { journal } = ok(await b.session.soFar())
  const log = ok(await readSoFar(b.files, journal))
  const soFar = ok(capturedFrom(log, 'j', 'finished')).recording
  await b.session.close()
  const { captured } = await leftIn('/j', b.files)
  const recording = captured[0]!.recording
  expect(recording.channels).toEqual(soFar.channels)
  expect(recording.channels.map(({ kind, unit }) => [kind, unit])).toEqual([
    ['travel', 'mm'],
    ['temperature', expect.any(String)],
  ])
  const [travel, temperature] = recording.channels
  expect(recording.timeS[0]).toBeCloseTo(0.1)
  expect(travel?.values[0]).toBeCloseTo(1)
  expect(travel?.values.at(-1)).toBeCloseTo(9.9)
  expect(temperature?.values[20]).toBeNaN()
  expect(temperature?.values[21]).toBe(21)
})

test('columns that change on the way: each channel keeps its own values', async () => {
  const b = await bench()
  ok(await b.session.start(NO_PLAN))
  b.line.say('t_ms,force_N,temp_C\n0,1,20\n10,1,21\n')
  b.line.say('t_ms,force_N,travel_mm,temp_C\n20,2,5,22\n30,2,6,23\n')
  const { recording } = whole(await b.session.finish())
  const named = Object.fromEntries(recording.channels.map(({ kind, values }) => [kind, [...values]]))
  expect(named).toEqual({ temperature: [20, 21, 22, 23], travel: [Number.NaN, Number.NaN, 5, 6] })
})

test('a push before the pull turns the live figures only for as long as it is the greatest load', async () => {
  const b = await bench()
  pull(b, 0, 1, () => 0)
  ok(await b.session.start(NO_PLAN))
  pull(b, 1, 2, () => 0)
  pull(b, 2, 3, () => -2)
  pull(b, 3, 4, () => 0)
  pull(b, 4, 6, t => 10 * (t - 4))
  expect(b.session.snapshot().figures.forceN).toBeCloseTo(19.9 * 9.80665, -1)
  expect(b.session.snapshot().figures.peakN).toBeCloseTo(19.9 * 9.80665, -1)
})

test('a zero key pressed before the pull is not taken for the way that a load goes', async () => {
  const b = await bench()
  pull(b, 0, 1, () => 0)
  ok(await b.session.start(NO_PLAN))
  pull(b, 1, 2, () => 0)
  pull(b, 2, 4, () => -3)
  pull(b, 4, 5, t => -3 + 1.5 * (t - 4))
  expect(b.session.snapshot().figures.forceN).toBeCloseTo(1.5 * 9.80665, -1)
})

test('a sign that was told stays', async () => {
  const b = await bench({ log: { tension: 'positive' } })
  pull(b, 0, 1, () => 0)
  ok(await b.session.start(NO_PLAN))
  pull(b, 1, 2, () => 0)
  pull(b, 2, 4, t => -10 * (t - 2))
  expect(b.session.snapshot().figures.forceN).toBeCloseTo(-19.9 * 9.80665, -1)
})

test('a read-only folder is told before the pull', async () => {
  const b = await bench()
  b.files.writable = false
  const refused = await b.session.start(NO_PLAN)
  expect(refused).toMatchObject({
    ok: false,
    problems: [{ what: expect.stringContaining('may not be written to') }],
  })
  expect(b.session.snapshot().state.phase).toBe('waiting')
})

test('a full disk: what was journaled stays, an alarm tells, capture goes on, and the recording is whole', async () => {
  const b = await bench()
  pull(b, 0, 1, () => 0)
  ok(await b.session.start(NO_PLAN))
  b.files.room = 5_000
  pull(b, 1, 3, t => 20 * (t - 1))
  await new Promise(resolve => setTimeout(resolve, 200))
  pull(b, 3, 5, () => 0)
  expect(b.session.snapshot().alarms).toMatchObject([
    { code: 'not-on-disk', what: expect.stringContaining('the disk is full'), over: false },
  ])
  expect((await journaled(b.files)).recording.timeS.length).toBeGreaterThan(50)
  const captured = whole(await b.session.finish())
  expect(captured.recording.timeS.length).toBe(500)
})

test('a disk that has room again is caught up with', async () => {
  const b = await bench()
  ok(await b.session.start(NO_PLAN))
  b.files.room = 700
  pull(b, 0, 2, () => 1)
  await new Promise(resolve => setTimeout(resolve, 200))
  b.files.room = Number.POSITIVE_INFINITY
  pull(b, 2, 3, () => 1)
  const over = () => b.told.flatMap(m => (m.kind === 'alarm' ? [m.alarm.over] : []))
  await expect.poll(over, { timeout: 10_000 }).toEqual([false, true])
  expect((await journaled(b.files)).recording.timeS.length).toBe(300)
})

test('a cable pulled and put back: noted, and the recording goes on', async () => {
  const b = await bench()
  ok(await b.session.start(NO_PLAN))
  pull(b, 0, 1, () => 3)
  b.line.lose()
  expect(b.session.snapshot()).toMatchObject({ line: 'lost', alarms: [{ code: 'line-lost' }] })
  b.pass(7)
  b.line.comeBack()
  // The device was without power: it counts from 0 again.
  pull(b, 0, 1, () => 3)
  const { recording, troubles } = whole(await b.session.finish())
  expect(troubles).toMatchObject({ reopened: 1, resets: 1 })
  expect(recording.segments.map(({ from, to, began }) => [from, to, began])).toEqual([
    [0, 100, 'start'],
    [100, 200, 'reset'],
  ])
  // The time between is known from the arrivals.
  expect(recording.timeS[100]! - recording.timeS[99]!).toBeCloseTo(7.01, 2)
  expect(recording.notes.map(note => note.text)).toEqual([
    'hand line was lost: the cable was pulled.',
    'hand line is back',
  ])
})

test('NaN, noise and unknown lines are kept as notes, and capture goes on', async () => {
  const b = await bench()
  ok(await b.session.start(NO_PLAN))
  pull(b, 0, 0.2, () => 3)
  b.line.say('200,nan\nWiFi connected\n\u0000\u0001\u0007\u0002\n')
  pull(b, 0.21, 0.5, () => 3)
  const { recording, troubles } = whole(await b.session.finish())
  expect(recording.timeS.length).toBe(49)
  expect(recording.notes.map(note => note.text).join('|')).toMatch(/nan.*WiFi connected/)
  expect(troubles.garbled).toBe(1)
})

test('a wrong speed is recognised and said, and taken back when text comes', async () => {
  const b = await bench()
  const garbage = Uint8Array.from({ length: 400 }, (_, i) => 128 + ((i * 37) % 128))
  b.line.say(garbage)
  await expect.poll(() => b.session.snapshot().alarms).toMatchObject([{ code: 'wrong-speed' }])
  b.line.say('\n')
  pull(b, 0, 1, () => 3)
  expect(b.session.snapshot().alarms).toEqual([])
})

test('over the cell’s capacity an alarm tells', async () => {
  const b = await bench({ capacityN: 100 })
  pull(b, 0, 1, () => 9.5)
  expect(b.session.snapshot().alarms.map(({ code }) => code)).toEqual(['near-capacity'])
  pull(b, 1, 2, () => 11)
  expect(b.session.snapshot().alarms.map(({ code }) => code)).toContain('over-capacity')
})

test('a listener that throws is switched off, named, and nothing else is disturbed', async () => {
  const b = await bench()
  b.session.subscribe(() => {
    throw new Error('broken panel')
  })
  ok(await b.session.start(NO_PLAN))
  pull(b, 0, 1, () => 3)
  expect(b.told).toContainEqual(
    expect.objectContaining({ kind: 'note', text: expect.stringContaining('broken panel') }),
  )
  expect(whole(await b.session.finish()).recording.timeS.length).toBe(100)
})

test('closing leaves a running recording in its journal, to be recovered', async () => {
  const b = await bench()
  ok(await b.session.start({ ...NO_PLAN, about: { ...NO_PLAN.about, specimen: 'a 1' } }))
  pull(b, 0, 1, () => 3)
  await b.session.close()
  const { captured } = await leftIn('/j', b.files)
  expect(captured).toMatchObject([{ how: 'recovered', about: { specimen: 'a 1' } }])
  expect(captured[0]?.recording.timeS.length).toBe(100)
})

test('commands that do not fit are refused with a reason', async () => {
  const b = await bench()
  expect(await b.session.finish()).toMatchObject({
    ok: false,
    problems: [{ what: 'nothing is being recorded.' }],
  })
  expect(b.session.disarm().ok).toBe(false)
  expect(b.session.zero().ok).toBe(false)
  ok(await b.session.start(NO_PLAN))
  expect(await b.session.start(NO_PLAN)).toMatchObject({
    ok: false,
    problems: [{ what: 'a recording is running.' }],
  })
  // Nothing came: nothing is kept, and that is said.
  expect(await b.session.finish()).toMatchObject({
    ok: false,
    problems: [{ what: expect.stringContaining('no sample') }],
  })
})

test('what belonged to one specimen is not taken for the time before the next', async () => {
  const b = await bench()
  ok(await b.session.start(NO_PLAN))
  pull(b, 0, 2, () => 3)
  whole(await b.session.finish())
  ok(await b.session.start(NO_PLAN))
  pull(b, 2, 3, () => 3)
  expect(whole(await b.session.finish()).recording.timeS.length).toBe(100)
})

test('a pretend pull, all at once: the same samples as its own recording', async () => {
  const b = await bench()
  ok(await b.session.start(NO_PLAN))
  const lines = [...pretendLines({ kind: 'saw-tooth', seed: 3 })]
  b.line.say(lines.map(({ line }) => `${line}\n`).join(''))
  const { recording } = whole(await b.session.finish())
  expect(recording.timeS.length).toBe(lines.length - 1)
  expect(recording.timeFrom).toBe('column')
})

test('half a line from before the cable was pulled is not joined to what comes after', async () => {
  const b = await bench()
  pull(b, 0, 1, () => 5)
  b.line.say('1000,5')
  b.line.lose()
  b.pass(3)
  b.line.comeBack()
  pull(b, 4, 5, () => 5)
  await b.session.close()
  const forces = b.told.flatMap(m => (m.kind === 'samples' ? [...m.batch.forceN] : []))
  expect(forces).toHaveLength(200)
  expect(Math.max(...forces)).toBeLessThan(5.03 * 9.80665)
  expect(b.told).toContainEqual(expect.objectContaining({ kind: 'note', of: 'garbled', text: '1000,5' }))
})

test('a line that goes on and sends nothing is told of; one that has come to its end is not', async () => {
  const silent = (told: readonly LiveMessage[]) =>
    told.filter(message => message.kind === 'alarm' && message.alarm.code === 'silent').length
  const looks = () => new Promise(resolve => setTimeout(resolve, 250))
  const ended = await bench()
  pull(ended, 0, 1, () => 0)
  ended.line.hangUp()
  await looks()
  ended.pass(30)
  await looks()
  expect(silent(ended.told)).toBe(0)
  const goesOn = await bench()
  pull(goesOn, 0, 1, () => 0)
  goesOn.pass(30)
  await looks()
  expect(silent(goesOn.told)).toBe(1)
  await Promise.all([ended.session.close(), goesOn.session.close()])
})
