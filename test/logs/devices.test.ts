import { describe, expect, test } from 'vitest'
import { N_PER } from '../../src/core/units/force.ts'
import { latin1, lines, recordingOf, utf16 } from './support.ts'

/**
 * Ten logs as ten devices of our own invention would write them, each with habits of its own, and what they
 * must be read as. The pull is the same: up to `peak` in the device's unit at sample 30 of 40, then nothing.
 */
const pull = (i: number, peak = 30): number => (i <= 30 ? (peak * i) / 30 : 0)

describe('reads the log of', () => {
  test('a luggage scale turned rig: boots, tares, then prints kilograms with its own start-up time', () => {
    const log = `** hook-scale v3 **\r\ntaring....ok (offset 84211)\r\n${lines(40, i => `${(2345 + i * 100).toString().padStart(8)} ms | ${pull(i).toFixed(3).padStart(8)} kg | ${i < 5 ? 'rest' : 'pull'}`, '\r\n')}-- sleeping --\r\n`
    const r = recordingOf(log)
    expect(r.forceUnit).toBe('kgf')
    expect(r.timeS[0]).toBeCloseTo(2.345)
    expect(r.forceN[30]).toBeCloseTo(30 * N_PER.kgf)
    expect(r.notes.map(n => n.text)).toEqual([
      '** hook-scale v3 **',
      'taring....ok (offset 84211)',
      'rest',
      'pull',
      '-- sleeping --',
    ])
    expect(r.assumptions).toEqual([])
  })

  test('a spreadsheet export of a German workshop: title, blank lines, decimal commas, trailing semicolons', () => {
    const row = (i: number): string =>
      [i + 1, (i / 10).toFixed(1), (i * 0.25).toFixed(2), '21.5']
        .map(cell => String(cell).replace('.', ','))
        .join(';')
    const force = (i: number): string => pull(i, 1234.5).toLocaleString('de-DE', { minimumFractionDigits: 1 })
    const log = latin1(
      `Zugversuch Kordel;;;;;\nPrüfer: niemand;;;;;\n;;;;;\nlfd. Nr.;Prüfzeit [s];Traversenweg [mm];Temperatur [°C];Zugkraft [N];\n${lines(40, i => `${row(i)};${force(i)};`)}`,
    )
    const r = recordingOf(log)
    expect(r.forceUnit).toBe('N')
    expect(r.forceN[30]).toBeCloseTo(1234.5)
    expect(r.timeS[39]).toBeCloseTo(3.9)
    expect(r.channels.map(c => c.kind)).toEqual(['other', 'travel', 'temperature'])
    expect(r.channels[1]?.values[4]).toBeCloseTo(1)
  })

  test('a bridge converter that prints raw counts and its uptime in microseconds, wrapping round', () => {
    const start = 2 ** 32 - 1_500_000
    const log = lines(
      40,
      i => `${(start + i * 100_000) % 2 ** 32} ${8_388_000 - Math.round(pull(i, 90_000))}`,
    )
    const r = recordingOf(log)
    expect(r.forceUnit).toBe('counts')
    expect(r.timeS[39]! - r.timeS[0]!).toBeCloseTo(3.9)
    expect(r.segments).toHaveLength(1)
    expect(r.assumptions.map(a => a.code)).toEqual([
      'unit-assumed',
      'time-doubtful',
      'time-unit-assumed',
      'tension-assumed',
    ])
    expect(r.forceN[30]! - r.forceN[0]!).toBe(90_000)
  })

  test('a converter that resets when its plug is knocked, and prints its header again', () => {
    const head = 'ms,grams\n'
    const part = (from: number) => lines(20, i => `${512 + i * 100},${pull(from + i).toFixed(2)}`)
    const r = recordingOf(head + part(0) + head + part(20))
    expect(r.segments.map(({ from, to, began }) => ({ from, to, began }))).toEqual([
      { from: 0, to: 20, began: 'start' },
      { from: 20, to: 40, began: 'reset' },
    ])
    expect(r.segments[1]!.shiftS).toBeCloseTo(2)
    expect(r.timeS[20]).toBeCloseTo(2.512)
    expect(r.forceUnit).toBe('gf')
  })

  test('a bench indicator over a terminal program: local stamps, status codes, a sign set apart, pounds', () => {
    const log = lines(
      40,
      i =>
        `[2026-03-07 23:59:${(57 + Math.floor(i / 10)) % 60 < 10 ? '00' : 57 + Math.floor(i / 10)}.${i % 10}00] ${i % 9 === 0 ? 'US' : 'ST'},NT,${i === 1 ? '-' : '+'}  ${pull(i).toFixed(2).padStart(6)} lb`,
    )
    const r = recordingOf(log.replaceAll('[2026-03-07 23:59:00', '[2026-03-08 00:00:00'))
    expect(r.forceUnit).toBe('lbf')
    expect(r.timeFrom).toBe('clock')
    expect(r.timeS[39]).toBeCloseTo(3.9)
    expect(r.forceN[1]).toBeCloseTo(-N_PER.lbf)
  })

  test('a phone app: one JSON document with nested readings, epoch milliseconds and a unit beside', () => {
    const log = JSON.stringify({
      app: 'bench',
      unit: 'kgf',
      device: { serial: 'x1' },
      session: {
        readings: Array.from({ length: 40 }, (_, i) => ({
          ts_ms: 1_767_225_600_000 + i * 100,
          v: { load: pull(i) },
          ok: true,
        })),
      },
    })
    const r = recordingOf(log)
    expect(r.forceUnit).toBe('kgf')
    expect(r.timeS[0]).toBe(0)
    expect(r.timeS[39]).toBeCloseTo(3.9)
    expect(r.segments[0]!.shiftS).toBeCloseTo(-1_767_225_600)
  })

  test('a Japanese spreadsheet in UTF-16 with tabs, a line of units and a set-point', () => {
    const log = utf16(
      `試験番号\t7\n\n時間\t設定荷重\t実測荷重\t変位\n[s]\t[N]\t[N]\t[mm]\n${lines(40, i => `${(i / 10).toFixed(1)}\t${i}\t${pull(i).toFixed(2)}\t${(i / 4).toFixed(2)}`)}`,
    )
    const r = recordingOf(log)
    expect(r.understood).toMatch(/実測荷重.*設定荷重/)
    expect(r.forceN[30]).toBeCloseTo(30)
    expect(r.channels.map(c => c.kind)).toEqual(['set-point', 'travel'])
  })

  test('a hand-held gauge with auto-ranging: grams below one kilogram, kilograms above, key=value', () => {
    const log = lines(
      40,
      i =>
        `n=${i} t=${(i / 10).toFixed(1)}s load=${pull(i, 3) < 1 ? `${(pull(i, 3) * 1000).toFixed(0)}g` : `${pull(i, 3).toFixed(3)}kg`} batt=3.91V`,
    )
    const r = recordingOf(log)
    expect(r.understood).toMatch(/changing between gf and kgf/)
    expect(r.forceN[5]).toBeCloseTo(0.5 * N_PER.kgf)
    expect(r.forceN[30]).toBeCloseTo(3 * N_PER.kgf)
  })

  test('a script that saves pulls as negative kips with exponents, and notes of the operator in between', () => {
    const log = `# 12.5 ms between samples\n# columns: force, travel\n# force_kip   travel_in\n${lines(40, i => `${(-pull(i, 1e-3)).toExponential(18)} ${(i * 0.01).toExponential(18)}${i === 20 ? '\n# creak here' : ''}`)}`
    const r = recordingOf(log, { rateHz: 80 })
    expect(r.forceUnit).toBe('kip')
    expect(r.forceN[30]).toBeCloseTo(1e-3 * N_PER.kip)
    expect(r.assumptions.map(a => a.code)).toEqual(['tension-assumed'])
    expect(r.notes.find(n => n.text === 'creak here')).toMatchObject({ sample: 21 })
    expect(r.channels[0]).toMatchObject({ kind: 'travel', unit: 'mm' })
    expect(r.channels[0]?.values[10]).toBeCloseTo(2.54)
  })

  test('a logger of four channels that stamps whole seconds, with two dead ones and a peak hold', () => {
    const log = `"Time","Ch1 Load (N)","Ch2 Load (N)","Ch3 Load (N)","Peak (N)"\n${lines(40, i => `"10:00:${String(Math.floor(i / 10)).padStart(2, '0')}","0.0","${pull(i).toFixed(1)}","-0.1","${Math.max(pull(Math.min(i, 30))).toFixed(1)}"`)}"Summary","0.0","30.0","-0.1","30.0"\n`
    const r = recordingOf(log)
    expect(r.timeFrom).toBe('clock')
    expect(r.timeS[39]).toBeCloseTo(3.9)
    expect(r.forceN[30]).toBeCloseTo(30)
    expect(r.assumptions.map(a => a.code)).toEqual(['time-spread', 'lines-not-read'])
    expect(r.notes.map(n => n.text)).toEqual(['"Summary","0.0","30.0","-0.1","30.0"'])
  })
})
