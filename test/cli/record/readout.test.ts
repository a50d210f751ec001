import { expect, test } from 'vitest'
import type { LiveEvent, LiveFigures, LiveMessage } from '../../../src/capture/index.ts'
import { hostAndPort } from '../../../src/cli/lineOptions.ts'
import { bigDigits } from '../../../src/cli/record/bigDigits.ts'

import { readout } from '../../../src/cli/record/readout.ts'
import { beeper, findSpeaker } from '../../../src/cli/record/sound.ts'

test('big digits are five rows, each sign in its own columns', () => {
  const rows = bigDigits('−1.5')
  expect(rows).toEqual([
    '            ██        ████████',
    '          ████        ██',
    '██████      ██        ██████',
    '            ██              ██',
    '          ██████  ██  ██████',
  ])
})

const figures: LiveFigures = {
  atS: 1,
  forceN: 40,
  peakN: 50,
  pullPeakN: 50,
  rateNPerS: 12,
  shareOfCapacity: 0.4,
  zeroN: 0,
  zeroFrom: 'rest',
  unit: 'kgf',
  forceIn: 'N',
  extensionMm: null,
  travelMm: null,
  turns: null,
  shareOfStroke: null,
  channels: [],
  sampleRateHz: 80,
  samples: 800,
  troubles: { lost: 2, repeated: 0, outOfOrder: 0, garbled: 0, resets: 0, reopened: 0 },
}
const event: LiveEvent = {
  id: 1,
  kind: 'partial-break',
  settled: true,
  atS: 1,
  beforeN: 50,
  afterN: 40,
  dropN: 10,
  confidence: 0.8,
}

function shown(messages: readonly LiveMessage[], isTerminal: boolean): string {
  let err = ''
  const io = {
    err: (text: string) => {
      err += text
    },
    errIsTerminal: isTerminal,
    outIsTerminal: isTerminal,
    columns: 120,
    env: { NO_COLOR: '1' },
  }
  const screen = readout({ io, keys: 'Ctrl-C finish', unit: null })
  for (const message of messages) screen.take(message)
  screen.end()
  return err
}

test('elsewhere than on a terminal: plain lines, in the unit of the line with newton beside', () => {
  const text = shown(
    [
      { kind: 'figures', figures },
      { kind: 'event', event },
    ],
    false,
  )
  expect(text).toContain(
    'force 4.079 kgf   = 40.00 N   peak 5.099 kgf   1.224 kgf/s   40 % of capacity   80.0 Hz',
  )
  expect(text).toContain('800 samples   2 lost')
  expect(text).toContain('partial break: 5.099 kgf → 4.079 kgf')
  expect(text).not.toContain('\u001b')
})

test('on a terminal: big digits, peak, alarms and keys', () => {
  const alarm = {
    code: 'silent',
    where: 'COM3',
    what: 'no line has come.',
    cure: 'Check.',
    atS: 1,
    over: false,
    renewed: false,
  } as const
  const text = shown(
    [
      { kind: 'figures', figures },
      { kind: 'alarm', alarm },
    ],
    true,
  )
  expect(text).toContain('██')
  expect(text).toContain('! no line has come. Check.')
  expect(text).toContain('Ctrl-C finish')
})

test('what a device says cannot steer the terminal', () => {
  const text = shown([{ kind: 'note', atS: 1, of: 'line', text: 'a\u001b[2Jb\u0007' }], false)
  expect(text).toBe('note: a␛[2Jb␇\n')
})

test('a break beeps twice, a partial break once, a drop that is not settled never', () => {
  let err = ''
  const beep = beeper({
    err: text => {
      err += text
    },
  })
  beep({ kind: 'event', event: { ...event, kind: 'drop', settled: false } })
  expect(err).toBe('')
  beep({ kind: 'event', event })
  expect(err).toBe('\u0007')
  beep({ kind: 'event', event: { ...event, kind: 'break' } })
  expect(err).toBe('\u0007\u0007\u0007')
})

test('no speaker on an empty path', () => expect(findSpeaker({ PATH: '' }, 'linux')).toBeNull())

test('host and port, IPv6 in brackets', () => {
  expect(hostAndPort('192.168.4.1:3333')).toEqual({ host: '192.168.4.1', port: 3333 })
  expect(hostAndPort('[::1]:80')).toEqual({ host: '::1', port: 80 })
  for (const word of ['host', 'host:0', 'host:70000', '::1:80', ':80'])
    expect(() => hostAndPort(word)).toThrow()
})
