import { execFileSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { NO_PLAN, openSession, serialSource } from '../../src/capture/index.ts'
import { parseDeviceLine } from '../../src/capture/protocol.ts'
import { whole } from '../capture/journaled.ts'
import { ptyPair } from '../capture/node/ptyPair.ts'
import { ran } from '../cli/fakeIo.ts'
import { buildBoard, runBoard } from './board.ts'

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-firmware-'))
let board: ReturnType<typeof buildBoard>
beforeAll(() => {
  board = buildBoard(folder)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const pause = (ms: number) => new Promise(resolve => setTimeout(resolve, ms))
const until = async (holds: () => boolean): Promise<void> => {
  while (!holds()) await pause(20)
}
const isJournal = (name: string | Buffer): boolean => String(name).endsWith('.journal')
const settled = async (count: () => number): Promise<void> => {
  for (let before = -1; before !== count(); ) {
    before = count()
    await pause(1500)
  }
}

/** Seconds of the board's own time: its ten minutes take the emulator some; TENTERHOOK_BOARD_S sets them. */
const CLEAN_S = Number(process.env.TENTERHOOK_BOARD_S ?? 25)

describe('through a pseudo-terminal into record', () => {
  for (const rateHz of [80, 10]) {
    test(`${rateHz} readings a second: none lost, none broken`, async () => {
      const pair = await ptyPair()
      const store = join(folder, `store-${rateHz}`)
      const recording = ran(['record', '--port', pair.port, '--store', store, '--json'])
      await until(() => existsSync(store) && readdirSync(store, { recursive: true }).some(isJournal))
      await pause(500)
      const done = await runBoard(board, join(pair.port, '..', 'device'), { seconds: CLEAN_S, rateHz })
      await pause(1500)
      process.emit('SIGINT')
      const { code, out, err } = await recording
      await pair.end()
      expect({ code, err }).toMatchObject({ code: 0 })
      const told = JSON.parse(out)
      expect(done.taken).toBeGreaterThan((CLEAN_S - 1) * rateHz)
      // The last line may still be on its way out of the board when its time is over.
      expect(done.taken - told.recording.samples).toBeLessThanOrEqual(1)
      expect(told.troubles).toMatchObject({ lost: 0, garbled: 0 })
    })
  }

  test('every fault is told, and no wrong value is recorded', async () => {
    const pair = await ptyPair()
    const opened = await openSession({ source: serialSource(pair.port), journals: folder })
    if (!opened.ok) throw new Error(opened.problems[0]?.what)
    const session = opened.value
    await session.start(NO_PLAN)
    const faults = ['busy@2+1.2', 'wire@4+1.2', 'slip@6', 'slip@6.5', 'full@7+0.1', 'ground@9+1.2']
    await runBoard(board, join(pair.port, '..', 'device'), { seconds: 12, rateHz: 80, faults })
    await settled(() => session.snapshot().figures.samples)
    const ended = whole(await session.finish())
    await session.close()
    await pair.end()
    const { recording } = ended
    const notes = recording.notes.map(n => n.text).join('\n')
    expect(notes).toMatch(/no load cell at the device/)
    expect(notes.match(/slipped/g)!.length).toBeGreaterThanOrEqual(2)
    // What the emulated converter measures lies between these, or at the end of its range.
    const wrong = recording.forceN.filter(v => v !== 0x7fffff && (v < 77_900 || v > 82_100))
    expect([...wrong]).toEqual([])
    expect(recording.forceN.filter(v => v === 0x7fffff).length).toBeGreaterThan(4)
  })
})

test('each line has its own status, number and time', async () => {
  const out = join(folder, 'lines')
  writeFileSync(out, '')
  const done = await runBoard(board, out, { seconds: 5, rateHz: 80, faults: ['slip@2', 'full@3+0.05'] })
  const lines = readFileSync(out, 'latin1').split('\n').slice(0, -1).map(parseDeviceLine)
  expect(lines[0]).toMatchObject({ kind: 'greeting', unit: 'counts', tickS: 1e-6, rateHz: 80 })
  const samples = lines.slice(1).flatMap(l => (l?.kind === 'sample' ? [l] : []))
  expect(samples.length).toBe(lines.length - 1)
  expect(samples.map(s => s.sequence)).toEqual(samples.map((_, i) => i))
  expect(samples.filter(s => s.status === 16).length).toBe(done.slipped)
  expect(samples.filter(s => s.status === 1).every(s => s.value === 0x7fffff)).toBe(true)
  expect(samples.filter(s => s.status === 1).length).toBeGreaterThan(2)
  // Conversions come 12.5 ms apart, and their times are told to a few microseconds.
  const steps = samples.slice(1).map((s, i) => s.ticks - samples[i]!.ticks)
  const even = steps.filter(step => Math.abs(step - 12_500) < 20)
  expect(even.length).toBeGreaterThan(0.98 * steps.length - 2)
})

test('the program fits the board with room to spare', () => {
  const size = execFileSync('avr-size', ['-B', board.elf], { encoding: 'utf8' })
    .split('\n')[1]!
    .trim()
    .split(/\s+/)
  const [text = 0, data = 0, bss = 0] = size.slice(0, 3).map(Number)
  expect(text + data).toBeLessThan(32_768 / 2)
  expect(data + bss).toBeLessThan(2_048 / 2)
})
