import { expect } from 'vitest'
import type { Recording } from '../../src/core/recording.ts'
import type { LogForceUnit } from '../../src/core/units/force.ts'
import type { LogOptions } from '../../src/logs/index.ts'
import { latin1, legacy, lines, utf16 } from './support.ts'

/**
 * One pull in twelve samples, ten a second, in the log's unit: what every shape below must give back, unless
 * its row says otherwise. Slack, a rise, a peak of 24.5, a break to nothing.
 */
export const FORCE = [0, 0.25, 1.5, 4.75, 9, 14.25, 19.5, 24.5, 22.25, 0.25, 0, 0.25]
export const TIME = FORCE.map((_, i) => i / 10)
const comma = (text: string): string => text.replaceAll('.', ',')
export const t = (i: number): string => TIME[i]!.toFixed(1)
export const f = (i: number): string => FORCE[i]!.toFixed(2)
export const rows = (row: (i: number) => string, end = '\n'): string => lines(FORCE.length, row, end)
export const plain = (head = 'time_s,force_N\n', end = '\n'): string =>
  head + rows(i => `${t(i)},${f(i)}`, end)

export interface Shape {
  readonly title: string
  readonly log: string | Uint8Array
  readonly options?: LogOptions
  /** `null`: told by nobody. */
  readonly unit?: LogForceUnit | null
  readonly time?: readonly number[]
  readonly force?: readonly number[]
  readonly understood?: RegExp
  readonly assumed?: readonly Recording['assumptions'][number]['code'][]
  readonly also?: (recording: Recording) => void
}

export const clock = (i: number, start = 43_263): string => {
  const tenths = Math.round(start * 10) + i
  const s = Math.floor(tenths / 10) % 86_400
  const two = (n: number): string => String(Math.floor(n)).padStart(2, '0')
  return `${two(s / 3600)}:${two((s / 60) % 60)}:${two(s % 60)}.${tenths % 10}50`
}

export const shapes: readonly Shape[] = [
  { title: 'comma, header with units after an underscore', log: plain() },
  {
    title: 'no header: the rising column is the time',
    log: plain(''),
    unit: null,
    assumed: ['unit-not-told', 'time-doubtful'],
  },
  {
    title: 'semicolon and decimal comma',
    log: `Zeit;Kraft [N]\n${rows(i => comma(`${t(i)};${f(i)}`))}`,
    understood: /semicolon.*decimal comma/,
  },
  {
    title: 'tab and decimal comma',
    log: `Zeit (s)\tKraft (N)\n${rows(i => comma(`${t(i)}\t${f(i)}`))}`,
    understood: /decimal comma/,
  },
  { title: 'bar', log: `Time (s)|Force (N)\n${rows(i => `${t(i)}|${f(i)}`)}`, understood: /bar-separated/ },
  {
    title: 'runs of blanks, header with units in brackets',
    log: `  Time (s)   Force (N)\n${rows(i => `  ${t(i)}    ${f(i)}`)}`,
    understood: /blank-separated/,
  },
  { title: 'blanks and decimal comma', log: `t[s] F[N]\n${rows(i => comma(`${t(i)} ${f(i)}`))}` },
  {
    title: 'thousands marks, quoted for the comma',
    log: `time_ms,force_mN\n${rows(i => `"${(9_500 + i * 100).toLocaleString('en')}","${(FORCE[i]! * 1000).toLocaleString('en', { minimumFractionDigits: 1 })}"`)}`,
    unit: 'mN',
    time: TIME.map(s => 9.5 + s),
    force: FORCE.map(v => v * 1000),
  },
  {
    title: 'thousands marks between tabs',
    log: `time_ms\tforce_mN\n${rows(i => `${i * 100}\t${(FORCE[i]! * 1000).toLocaleString('en')}`)}`,
    unit: 'mN',
    force: FORCE.map(v => v * 1000),
    assumed: ['decimal-assumed'],
  },
  {
    title: 'a lone column with decimal commas',
    log: rows(i => comma(f(i))),
    options: { rateHz: 10, unit: 'N' },
  },
  {
    title: 'thousands points and decimal comma',
    log: `Zeit;Kraft [mN]\n${rows(i => `${comma(t(i))};${(FORCE[i]! * 1000).toLocaleString('de-DE', { minimumFractionDigits: 1 })}`)}`,
    unit: 'mN',
    force: FORCE.map(v => v * 1000),
  },
  {
    title: 'thousands blanks',
    log: `Temps;Force (mN)\n${rows(i => `${comma(t(i))};${(FORCE[i]! * 1000).toLocaleString('fr-FR', { minimumFractionDigits: 1 })}`)}`,
    unit: 'mN',
    force: FORCE.map(v => v * 1000),
  },
  {
    title: 'thousands apostrophes',
    log: `Zeit;Kraft [mN]\n${rows(i => `${t(i)};${(FORCE[i]! * 1000).toLocaleString('de-CH', { minimumFractionDigits: 1 }).replaceAll('’', "'")}`)}`,
    unit: 'mN',
    force: FORCE.map(v => v * 1000),
  },
  {
    title: 'several header lines and a units row',
    log: `Rig 4\nOperator: nobody\n\nTime,Force\ns,N\n${plain('')}`,
    also: r => expect(r.notes.map(n => n.text)).toContain('Operator: nobody'),
  },
  {
    title: 'a units row in brackets',
    log: `Time,Force\n[ms],[kN]\n${rows(i => `${i * 100},${f(i)}`)}`,
    unit: 'kN',
  },
  {
    title: 'comments of four kinds',
    log: `# rig 4\n; second\n// third\n% fourth\n${plain()}# the end\n`,
    also: r => expect(r.notes.map(n => n.text)).toEqual(['rig 4', 'second', 'third', 'fourth', 'the end']),
  },
  { title: 'header behind a comment mark', log: `# time_s force_N\n${rows(i => `${t(i)} ${f(i)}`)}` },
  { title: 'UTF-8 with a mark', log: `\ufeff${plain('Time (s),Force (N)\n')}` },
  { title: 'UTF-16 little end first with a mark', log: utf16(plain()), understood: /utf-16le/ },
  { title: 'UTF-16 big end first with a mark', log: utf16(plain(), true), understood: /utf-16be/ },
  { title: 'UTF-16 without a mark', log: utf16(plain(), false, false), understood: /utf-16le/ },
  { title: 'UTF-16 big end first without a mark', log: utf16(plain(), true, false), understood: /utf-16be/ },
  {
    title: 'Latin-1',
    log: latin1(`Zeit;Kraft (N);Temperatur °C;für später\n${rows(i => `${t(i)};${f(i)};21;`)}`),
    understood: /windows-1252/,
  },
  { title: 'Shift JIS', log: legacy(`時間(s),荷重(N)\n${plain('')}`, 'shift_jis'), understood: /shift_jis/ },
  { title: 'GBK', log: legacy(`时间(s),拉力(N)\n${plain('')}`, 'gbk'), understood: /gbk/ },
  { title: 'Big5', log: legacy(`時間(s),拉力(N),備註\n${plain('')}`, 'big5'), understood: /big5/ },
  { title: 'EUC-KR', log: legacy(`시간(s),하중(N)\n${plain('')}`, 'euc-kr'), understood: /euc-kr/ },
  {
    title: 'Windows-1251',
    log: legacy(`Время;Сила (Н)\n${plain('').replaceAll(',', ';')}`, 'windows-1251'),
    understood: /windows-1251/,
  },
  { title: 'CRLF', log: plain('time_s,force_N\r\n', '\r\n') },
  { title: 'CR alone', log: plain('time_s,force_N\r', '\r') },
  { title: 'blank lines between', log: plain('time_s,force_N\n\n', '\n\n') },
  {
    title: 'quoted cells with delimiters and line ends in them',
    log: `"Time, s";"Force, N";Note\n${rows(i => `${t(i)};${f(i)};${i === 3 ? '"cord; torn\nat the ""left"" knot"' : ''}`)}`,
    also: r => expect(r.notes).toEqual([{ line: 5, sample: 3, text: 'Note: cord; torn␊at the "left" knot' }]),
  },
  {
    title: 'quotes around whole lines',
    log: rows(i => `"${t(i)},${f(i)}"`),
    unit: null,
    assumed: ['unit-not-told', 'time-doubtful'],
  },
  { title: 'a cut last line', log: `${plain()}1.2,0.`, assumed: ['rows-skipped'] },
  { title: 'a last line cut within its first cell', log: `${plain()}1.`, assumed: ['rows-skipped'] },
  { title: 'a whole last line without a line end', log: plain().trimEnd() },
  {
    title: 'clock stamps with arrows',
    log: rows(i => `${clock(i)} -> ${f(i)} kg`),
    unit: 'kgf',
    understood: /a clock/,
  },
  {
    title: 'clock stamps that pass midnight',
    log: rows(i => `${clock(i, 86_399.5)} -> ${f(i)} N`),
    also: r => expect(r.timeFrom).toBe('clock'),
  },
  { title: 'clock stamps in brackets', log: rows(i => `[${clock(i)}] ${f(i)} N`) },
  {
    title: 'clock stamps with AM and PM',
    log: `Time,Force (N)\n${rows(i => `12:59:${(59 + i / 10) % 60 < 10 ? `0${((59 + i / 10) % 60).toFixed(1)}` : (59 + i / 10).toFixed(1)} PM,${f(i)}`).replace(/12:59:0/g, '1:00:0')}`,
  },
  {
    title: 'clock on twelve hours',
    log: `Time,Force (N)\n${rows(i => `${(59 + i / 10) >= 60 ? `1:00:0${((59 + i / 10) % 60).toFixed(1)}` : `12:59:${(59 + i / 10).toFixed(1)}`},${f(i)}`)}`,
  },
  { title: 'ISO date-times with a zone', log: `when,N\n${rows(i => `2026-05-01T${clock(i)}Z,${f(i)}`)}` },
  {
    title: 'date and time in two columns',
    log: `Date\tTime\tLoad (N)\n${rows(i => `2026/05/${i < 5 ? '01' : '02'}\t${clock(i, 86_399.5)}\t${f(i)}`)}`,
  },
  {
    title: 'dotted date and time in one cell, decimal commas',
    log: `Datum;Kraft N\n${rows(i => `01.05.2026 ${comma(clock(i))};${comma(f(i))}`)}`,
  },
  {
    title: 'slashed dates with the month first',
    log: `Date,Time,Load (N)\n${rows(i => `05/${i < 5 ? '13' : '14'}/2026,${clock(i, 86_399.5)},${f(i)}`)}`,
  },
  {
    title: 'minutes and seconds',
    log: `time;N\n${rows(i => `01:${(3 + i / 10).toFixed(1).padStart(4, '0')};${f(i)}`)}`,
  },
  { title: 'key=value', log: rows(i => `t=${t(i)} F=${f(i)}N`), understood: /key=value/ },
  {
    title: 'key: value with words between',
    log: rows(i => `Time: ${t(i)} s, Force: ${f(i)} lbf`),
    unit: 'lbf',
  },
  {
    title: 'key=value with a clock before it',
    log: rows(i => `${clock(i)} -> load=${f(i)} kg temp=21.5`),
    unit: 'kgf',
    also: r => expect(r.channels[0]).toMatchObject({ kind: 'temperature' }),
  },
  { title: 'key=value with decimal commas', log: rows(i => `t=${comma(t(i))}; F=${comma(f(i))} N`) },
  {
    title: 'JSON Lines',
    log: rows(i => JSON.stringify({ time_s: TIME[i], force_N: FORCE[i] })),
    understood: /JSON Lines/,
  },
  {
    title: 'JSON Lines with a unit beside and a note',
    log: rows(i =>
      JSON.stringify({ ms: i * 100, load: { value: FORCE[i] }, unit: 'kgf', note: i === 2 ? 'creak' : null }),
    ),
    unit: 'kgf',
    also: r => expect(r.notes[0]?.text).toBe('note: creak'),
  },
  {
    title: 'JSON Lines of arrays',
    log: rows(i => JSON.stringify([TIME[i], FORCE[i]])),
    unit: null,
    assumed: ['unit-not-told', 'time-doubtful'],
  },
  {
    title: 'one JSON document of objects',
    log: JSON.stringify(
      { device: 'rig 4', samples: TIME.map((s, i) => ({ t: s, force_N: FORCE[i] })) },
      null,
      2,
    ),
    understood: /JSON document/,
  },
  {
    title: 'one JSON document of arrays with names',
    log: JSON.stringify({ columns: ['time_s', 'force_kgf'], data: TIME.map((s, i) => [s, FORCE[i]]) }),
    unit: 'kgf',
  },
  {
    title: 'one JSON document of columns',
    log: JSON.stringify({ meta: { unit: 'lbf' }, time_s: TIME, load: FORCE }),
    unit: 'lbf',
  },
  {
    title: 'values alone, rate told',
    log: rows(f),
    options: { rateHz: 10 },
    unit: null,
    assumed: ['unit-not-told'],
  },
  {
    title: 'values alone with a unit, rate stated above',
    log: `Sample rate: 10 Hz\n${rows(i => `${f(i)} N`)}`,
    also: r => expect(r.timeFrom).toBe('rate'),
  },
  {
    title: 'a converter on a scale: status, sign, blanks, unit',
    log: rows(i => `ST,GS,+   ${f(i)}kg`),
    options: { rateHz: 10 },
    unit: 'kgf',
  },
  { title: 'milliseconds by the header', log: `time (ms);force (N)\n${rows(i => `${i * 100};${f(i)}`)}` },
  { title: 'microseconds by the header', log: `micros,force_N\n${rows(i => `${i * 100_000},${f(i)}`)}` },
  {
    title: 'milliseconds by their steps',
    log: `${rows(i => `${i * 100},${f(i)}`)}`,
    unit: null,
    assumed: ['unit-not-told', 'time-doubtful', 'time-unit-assumed'],
  },
  {
    title: 'microseconds by their steps',
    log: `time,force_N\n${rows(i => `${i * 100_000},${f(i)}`)}`,
    assumed: ['time-unit-assumed'],
  },
  {
    title: 'milliseconds that wrap round 32 bits',
    log: `ms,N\n${rows(i => `${(4_294_966_796 + i * 100) % 2 ** 32},${f(i)}`)}`,
    time: TIME.map(s => 4_294_966.796 + s),
    understood: /began again 1 times/,
  },
  {
    title: 'microseconds that wrap round 32 bits',
    log: `us,N\n${rows(i => `${(4_294_467_296 + i * 100_000) % 2 ** 32},${f(i)}`)}`,
    time: TIME.map(s => 4294.467296 + s),
  },
  {
    title: 'milliseconds that wrap round 16 bits',
    log: `ms,N\n${rows(i => `${(65_036 + i * 100) % 65_536},${f(i)}`)}`,
    time: TIME.map(s => 65.036 + s),
  },
  {
    title: 'seconds since 1970, as a far zero',
    log: `epoch time,N\n${rows(i => `${1_777_777_777 + i / 10},${f(i)}`)}`,
  },
  {
    title: 'milliseconds since 1970',
    log: `timestamp,N\n${rows(i => `${1_777_777_777_000 + i * 100},${f(i)}`)}`,
    assumed: ['time-unit-assumed'],
  },
  { title: 'unit in the row', log: `time,force,unit\n${rows(i => `${t(i)},${f(i)},kgf`)}`, unit: 'kgf' },
  {
    title: 'unit in a row of blanks',
    log: rows(i => `${t(i)} ${f(i)} lb`),
    unit: 'lbf',
    assumed: ['time-doubtful'],
  },
  {
    title: 'unit that changes by row',
    log: `time,force\n${rows(i => `${t(i)},${FORCE[i]! < 10 ? `${FORCE[i]! * 1000} mN` : `${FORCE[i]} N`}`)}`,
    unit: 'mN',
    force: FORCE.map(v => v * 1000),
    understood: /changing between mN and N/,
  },
  {
    title: 'unit above the samples',
    log: `Force unit: kgf\nTime;Force\n${rows(i => `${t(i)};${f(i)}`)}`,
    unit: 'kgf',
    understood: /from line 1/,
  },
  {
    title: 'results and settings above the samples',
    log: `[Results]\nPeak,24.50,N\nBreak at,0.8,s\n[Settings]\nSpeed,5\n\n[Samples]\n${plain()}`,
    also: r => expect(r.notes.map(n => n.text)).toContain('Peak,24.50,N'),
  },
  {
    title: 'a table of results of the same width above the samples',
    log: `No,Peak\n1,24.5\n2,23.1\n\n${plain()}`,
  },
  {
    title: 'set-point beside the actual force',
    log: `Time (s),Set force (N),Actual force (N)\n${rows(i => `${t(i)},${i * 3},${f(i)}`)}`,
    understood: /set-point/,
    also: r => expect(r.channels[0]).toMatchObject({ kind: 'set-point', unit: 'N' }),
  },
  { title: 'Soll beside Ist', log: `Zeit;Sollkraft N;Istkraft N\n${rows(i => `${t(i)};${i * 3};${f(i)}`)}` },
  {
    title: 'dead channels',
    log: `Time (s),Load 1 (N),Load 2 (N),Load 3 (N)\n${rows(i => `${t(i)},0.00,${f(i)},-5.00`)}`,
    understood: /is constant/,
  },
  {
    title: 'peak hold beside the force',
    log: `Time (s),Peak (N),Force (N)\n${rows(i => `${t(i)},${Math.max(...FORCE.slice(0, i + 1))},${f(i)}`)}`,
  },
  {
    title: 'time in the last column',
    log: `Force (N);Travel (mm);Time (s)\n${rows(i => `${f(i)};${i / 2};${t(i)}`)}`,
    also: r => expect(r.channels[0]).toMatchObject({ kind: 'travel', unit: 'mm' }),
  },
  {
    title: 'a number of the row before time and force',
    log: `No.,Time (s),Force (N)\n${rows(i => `${i + 1},${t(i)},${f(i)}`)}`,
  },
  {
    title: 'equal time stamps are spread',
    log: `time_s,force_N\n${rows(i => `${Math.floor(i / 2) / 5},${f(i)}`)}`,
    assumed: ['time-spread'],
  },
  {
    title: 'clock stamps of whole seconds',
    log: `Time,N\n${lines(40, i => `12:00:${String(Math.floor(i / 10)).padStart(2, '0')},${i}`)}`,
    time: Array.from({ length: 40 }, (_, i) => i / 10),
    force: Array.from({ length: 40 }, (_, i) => i),
    assumed: ['time-spread'],
  },
  { title: 'a bogus last row of totals', log: `${plain()}Total,24.50\n`, assumed: ['lines-not-read'] },
  { title: 'a bogus last row of zeros', log: `${plain()}0.0,0.00\n`, assumed: ['rows-skipped'] },
  {
    title: 'the word end in the last row',
    log: `${plain()}end\n`,
    also: r => expect(r.notes.at(-1)?.text).toBe('end'),
  },
  {
    title: 'residue at the ends of lines',
    log:
      'time_s,force_N,,\n' +
      rows(i => `${t(i)},${f(i)}${[',,', '\\', '  ', '\0', '"', ',', '\t'][i % 7]}`) +
      '\x1a',
  },
  {
    title: 'tension counted negative',
    log: `time_s,force_N\n${rows(i => `${t(i)},${(-FORCE[i]!).toFixed(2)}`)}`,
    assumed: ['tension-assumed'],
    understood: /turned/,
  },
  {
    title: 'tension counted negative, told',
    log: `time_s,force_N\n${rows(i => `${t(i)},${(-FORCE[i]!).toFixed(2)}`)}`,
    options: { tension: 'negative' },
  },
  {
    title: 'pushes as well as pulls',
    log: `time_s,force_N\n${rows(i => `${t(i)},${i === 1 || i === 2 ? -8 : f(i)}`)}`,
    force: FORCE.map((v, i) => (i === 1 || i === 2 ? -8 : v)),
  },
  {
    title: 'raw counts by the header',
    log: `ms,raw\n${rows(i => `${i * 100},${8_400_000 + FORCE[i]! * 1000}`)}`,
    unit: 'counts',
    force: FORCE.map(v => 8_400_000 + v * 1000),
  },
  {
    title: 'raw counts by their size',
    log: `ms,value\n${rows(i => `${i * 100},${84_000 + FORCE[i]! * 1000}`)}`,
    unit: 'counts',
    force: FORCE.map(v => 84_000 + v * 1000),
    assumed: ['unit-assumed'],
  },
  {
    title: 'missing and unreadable values',
    log: `time_s,force_N\n${rows(i => `${t(i)},${f(i)}`)
      .replace('0.3,4.75\n', '0.3,NaN\n0.3,4.75\n')
      .replace('0.6,', '0.55,OL\n0.6,')}`,
    assumed: ['rows-skipped'],
  },
  {
    title: 'inches become millimetres',
    log: `time_s,force_N,extension (in),note\n${rows(i => `${t(i)},${f(i)},${i},${i === 4 ? 'creak' : ''}`)}`,
    also: r => {
      expect(r.channels[0]).toMatchObject({ kind: 'extension', unit: 'mm' })
      expect(r.channels[0]?.values[2]).toBeCloseTo(50.8)
      expect(r.notes).toEqual([{ line: 6, sample: 4, text: 'note: creak' }])
    },
  },
  {
    title: 'exponents and long numbers',
    log: `time_s,force_N\n${rows(i => `${TIME[i]!.toExponential(18)},${FORCE[i]!.toExponential(20)}`)}`,
  },
  {
    title: 'typographic minus and plus',
    log: `time_s,force_N\n${rows(i => `+${t(i)},${i === 0 ? '−0.50' : f(i)}`)}`,
    force: FORCE.map((v, i) => (i === 0 ? -0.5 : v)),
  },
  {
    title: 'full-width digits',
    log: `時間（ｓ）,力（Ｎ）\n${rows(i => `${t(i)},${f(i)}`.replace(/[0-9]/g, d => String.fromCharCode(0xff10 + Number(d))))}`,
  },
  {
    title: 'columns by name',
    log: `a,b,c\n${rows(i => `${FORCE[i]! * 2},${f(i)},${t(i)}`)}`,
    options: { time: 'c', force: 'B', unit: 'lbf' },
    unit: 'lbf',
  },
  {
    title: 'columns by number',
    log: rows(i => `${FORCE[i]! * 2},${f(i)},${t(i)}`),
    options: { time: '3', force: '2', unit: 'kip' },
    unit: 'kip',
  },
  {
    title: 'rate told against row numbers',
    log: `row,force_N\n${rows(i => `${i},${f(i)}`)}`,
    options: { rateHz: 10 },
  },
  {
    title: 'rate told against a column of time, which stands before it',
    log: plain(),
    options: { rateHz: 20 },
    assumed: ['contradiction'],
  },
  {
    title: 'decimal told',
    log: rows(i => `${comma(t(i))}\t${i},${String(FORCE[i]).replace('.', '').padEnd(3, '0').slice(0, 3)}`),
    options: { decimal: 'comma', unit: 'N' },
    assumed: ['time-doubtful'],
    force: FORCE.map((v, i) => Number(`${i}.${String(v).replace('.', '').padEnd(3, '0').slice(0, 3)}`)),
  },
  {
    title: 'encoding told',
    log: latin1(`Zeit;Kraft (N)\n${plain('').replaceAll(',', ';')}`),
    options: { encoding: 'latin1' },
    understood: /windows-1252 \(as told\)/,
  },
]
