import { mkdtemp } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, describe, expect, test } from 'vitest'
import {
  type LiveMessage,
  listPorts,
  NO_PLAN,
  openSession,
  type Session,
  serialSource,
} from '../../../src/capture/index.ts'
import { serialProblem } from '../../../src/capture/sources/serialWords.ts'
import { whole } from '../journaled.ts'
import { type PtyPair, ptyPair } from './ptyPair.ts'

let pair: PtyPair | null = null
let session: Session | null = null
afterEach(async () => {
  await session?.close()
  await pair?.end()
  session = null
  pair = null
})

async function open(): Promise<{ session: Session; pair: PtyPair; told: LiveMessage[] }> {
  pair = await ptyPair()
  const journals = await mkdtemp(join(tmpdir(), 'tenterhook-serial-'))
  const opened = await openSession({ source: serialSource(pair.port), journals })
  if (!opened.ok) throw new Error(opened.problems[0]?.what)
  session = opened.value
  const told: LiveMessage[] = []
  session.subscribe(message => told.push(message))
  return { session, pair, told }
}

const until = async (holds: () => boolean): Promise<void> => {
  while (!holds()) await new Promise(resolve => setTimeout(resolve, 10))
}

describe('over a pseudo-terminal', () => {
  for (const rateHz of [10, 80, 1000]) {
    test(`${rateHz} lines a second arrive without a loss, in order`, async () => {
      const bench = await open()
      await bench.session.start(NO_PLAN)
      const count = Math.max(20, rateHz * 2)
      const begunMs = performance.now()
      for (let sent = 0; sent < count; ) {
        const due = Math.min(count, Math.ceil(((performance.now() - begunMs) / 1000) * rateHz))
        let lines = ''
        for (; sent < due; sent++) lines += `${(sent / 10).toFixed(1)} N\n`
        if (lines !== '') await bench.pair.say(lines)
        await new Promise(resolve => setTimeout(resolve, 1))
      }
      await until(() => bench.session.snapshot().figures.samples === count)
      const ended = whole(await bench.session.finish())
      const { recording } = ended
      expect([...recording.forceN]).toEqual(Array.from({ length: count }, (_, i) => i / 10))
      expect(recording).toMatchObject({ forceUnit: 'N', timeFrom: 'clock' })
      expect(recording.understood).toContain('time of arrival, smoothed')
    })
  }

  test('a cable pulled and put back is opened again, noted, and the recording goes on', async () => {
    const bench = await open()
    await bench.session.start(NO_PLAN)
    await bench.pair.say('1 N\n2 N\n')
    await until(() => bench.session.snapshot().figures.samples === 2)
    await bench.pair.unplug()
    await until(() => bench.session.snapshot().line === 'lost')
    expect(bench.session.snapshot().alarms).toMatchObject([
      { code: 'line-lost', what: 'the device was unplugged or switched off.' },
    ])
    await bench.pair.plugIn()
    await until(() => bench.session.snapshot().line === 'open')
    await bench.pair.say('3 N\n4 N\n')
    await until(() => bench.session.snapshot().figures.samples === 4)
    const ended = whole(await bench.session.finish())
    expect([...ended.recording.forceN]).toEqual([1, 2, 3, 4])
    expect(ended.troubles.reopened).toBe(1)
    expect(ended.recording.segments).toHaveLength(2)
  })

  test('a port that is open already is in use, in plain words', async () => {
    const bench = await open()
    const again = await openSession({ source: serialSource(bench.pair.port), journals: tmpdir() })
    expect(again).toMatchObject({ ok: false, problems: [{ what: 'the port is in use by another program.' }] })
  })
})

describe('a port that will not open', () => {
  test('is not there', async () => {
    const opened = await openSession({ source: serialSource('/dev/ttyNOTHERE'), journals: tmpdir() })
    expect(opened).toMatchObject({ ok: false, problems: [{ what: 'there is no such port.' }] })
  })
  test('is no port', async () => {
    const opened = await openSession({ source: serialSource('/etc/hostname'), journals: tmpdir() })
    expect(opened.ok).toBe(false)
  })

  // What the serial library and the systems say; the first two lines are its own, seen on Linux.
  const words: readonly [platform: string, said: string, what: RegExp, cure: RegExp][] = [
    ['linux', 'Error Resource temporarily unavailable Cannot lock port', /in use/, /fuser/],
    ['linux', 'Error: Permission denied, cannot open /dev/ttyUSB0', /may not open/, /dialout/],
    ['darwin', 'Error Resource busy Cannot lock port', /in use/, /lsof/],
    ['darwin', 'Error: Operation not permitted, cannot open /dev/tty.usb', /may not open/, /System Settings/],
    ['win32', 'Opening COM3: Access denied', /Windows denies access/, /in use/],
    ['win32', 'Opening COM9: File not found', /no such port/, /Device Manager/],
    ['linux', 'Error: No such file or directory, cannot open /dev/ttyUSB7', /no such port/, /ttyACM/],
    ['linux', 'something new', /something new/, /tenterhook ports/],
  ]
  for (const [platform, said, what, cure] of words) {
    test(`${platform}: ${said}`, () => {
      const problem = serialProblem('PORT', new Error(said), platform)
      expect(problem.what).toMatch(what)
      expect(problem.cure).toMatch(cure)
    })
  }
})

test('ports are listed, or it is said why they cannot be', async () => {
  const listed = await listPorts()
  if (listed.ok) for (const port of listed.value) expect(typeof port.path).toBe('string')
  else
    expect(listed.problems[0]).toMatchObject({ where: 'serial ports', cure: expect.stringMatching(/port/) })
})
