import { describe, expect, test } from 'vitest'
import { createLineReader, type LineItem, type LogOptions } from '../../../src/logs/index.ts'
import { utf8 } from '../support.ts'

const itemsOf = (text: string | Uint8Array, options: LogOptions = {}): LineItem[] =>
  createLineReader(options).push(typeof text === 'string' ? utf8(text) : text, 7)

/** `time force unit` of samples, the text of notes. */
const brief = (items: readonly LineItem[]): string[] =>
  items.map(item => (item.kind === 'note' ? `# ${item.text}` : `${item.timeS} ${item.force} ${item.unit}`))

const rows = Array.from({ length: 8 }, (_, i) => [i * 12, i * 1.5] as const)

describe('createLineReader', () => {
  test.each([
    ['a value with a unit at once', '0.25 kg\r\n0.50 kg\r\n', {}, ['null 0.25 kgf', 'null 0.5 kgf']],
    ['a value alone', '1\n2\n', {}, ['null 1 null', 'null 2 null']],
    ['a unit told', '1\n2\n', { unit: 'lbf' }, ['null 1 lbf', 'null 2 lbf']],
    ['a header at once', 'ms,kgf\n12,0.5\n', {}, ['# ms,kgf', '0.012 0.5 kgf']],
    ['key=value', 't=12ms F=1.5N\nt=24ms F=2N\n', {}, ['0.012 1.5 N', '0.024 2 N']],
    ['clock stamps', '12:00:01.5 -> 2.5 N\n', {}, ['43201.5 2.5 N']],
    ['JSON', '{"t_ms":12,"force_N":1.5}\n{"t_ms":24,"force_N":2.5}\n', {}, ['0.012 1.5 N', '0.024 2.5 N']],
    ['text between', '1 N\nslipped\n2 N\n', {}, ['null 1 N', '# slipped', 'null 2 N']],
    ['a unit that changes', '900 g\n1.2 kg\n', {}, ['null 900 gf', 'null 1.2 kgf']],
    ['carriage returns alone', '1 N\r2 N\r', {}, ['null 1 N', 'null 2 N']],
    [
      'a value that cannot be read',
      't_ms,force_N\n12,1\n24,OL\n36,2\n',
      {},
      ['# t_ms,force_N', '0.012 1 N', '# no force in “24,OL”', '0.036 2 N'],
    ],
  ] as const)('takes %s', (_, text, options, expected) =>
    expect(brief(itemsOf(text, options))).toEqual(expected),
  )

  test('understands the lines anew after a header that gives the columns another meaning', () => {
    const items = itemsOf('ms,kg\n12,0.5\nlb,ms\n1.5,24\nms,lb\n36,2\n')
    expect(brief(items)).toEqual([
      '# ms,kg',
      '0.012 0.5 kgf',
      '# lb,ms',
      '0.024 1.5 lbf',
      '# ms,lb',
      '0.036 2 lbf',
    ])
  })

  test('holds unnamed columns until it is clear which is the time, and loses none', () => {
    const reader = createLineReader()
    const counts = rows.map(([ms, force]) => reader.push(utf8(`${ms},${force}\n`), ms / 1000).length)
    expect(counts).toEqual([0, 0, 0, 0, 0, 6, 1, 1])
  })

  test('keeps the time of arrival of each line that it held', () => {
    const reader = createLineReader()
    const items = rows.flatMap(([ms, force]) => reader.push(utf8(`${ms},${force}\n`), ms / 1000))
    expect(items.map(item => item.arrivedS)).toEqual(rows.map(([ms]) => ms / 1000))
    expect(brief(items)[1]).toBe('0.012 1.5 null')
  })

  test('takes columns as told at once', () => {
    expect(
      brief(itemsOf('1,2,3\n4,5,6\n7,8,9\n10,11,12\n13,14,15\n16,17,18\n', { force: '3', time: '1' })).slice(
        0,
        2,
      ),
    ).toHaveLength(2)
  })

  test('gives the same wherever the stream is cut', () => {
    const bytes = utf8('boot v1\r\nt_ms,force_N\r\n12,0.5\r\n\r\n24,1.5 µ\r\n36,2.5\r\n48,−3.5\r\n')
    const whole = itemsOf(bytes)
    expect(whole.length).toBeGreaterThan(4)
    for (let cut = 0; cut <= bytes.length; cut++) {
      const reader = createLineReader()
      expect([...reader.push(bytes.subarray(0, cut), 7), ...reader.push(bytes.subarray(cut), 7)]).toEqual(
        whole,
      )
    }
  })

  test('cuts a line without end and goes on', () => {
    const reader = createLineReader()
    const items = [...Array(40).keys()].flatMap(() => reader.push(utf8('x'.repeat(10_000)), 1))
    expect(items).toEqual([])
    const after = reader.push(utf8('\n1 N\n2 N\n'), 2)
    expect(brief(after)).toEqual([
      expect.stringMatching(/^# x+… \(a line over 65536 bytes, cut\)$/),
      'null 1 N',
      'null 2 N',
    ])
  })

  test('says once what is not clear, and gives the lines as notes', () => {
    const text = Array.from({ length: 120 }, (_, i) => `${(i * 7) % 11},${(i * 5) % 13}\n`).join('')
    const notes = brief(itemsOf(text))
    expect(notes.filter(note => /which column is the force/.test(note))).toHaveLength(1)
    expect(notes[0]).toBe('# 0,0')
  })

  test('reads a hundred thousand lines in a bounded table', () => {
    const reader = createLineReader()
    let samples = 0
    for (let i = 0; i < 1000; i++) {
      const text = Array.from(
        { length: 100 },
        (_, k) => `${(i * 100 + k) * 10} ms ${k} N${k === 7 ? ' ok' : ''}\n`,
      ).join('')
      samples += reader.push(utf8(text), i).filter(item => item.kind === 'sample').length
    }
    expect(samples).toBe(100_000)
  })
})
