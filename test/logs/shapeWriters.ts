import type { LogOptions } from '../../src/logs/index.ts'
import { utf8, utf16 } from './support.ts'

/** What a writer is given: times in seconds on a grid of 1 ms, forces to three decimals, in `unit`. */
export interface Samples {
  readonly timeMs: readonly number[]
  readonly force: readonly number[]
  readonly unit: string
}

export interface ShapeWriter {
  readonly title: string
  readonly write: (samples: Samples) => Uint8Array
  readonly options?: LogOptions
}

const rowsOf = (
  samples: Samples,
  row: (s: string, f: string, ms: number, i: number) => string,
  end = '\n',
): string =>
  samples.timeMs
    .map((ms, i) => row((ms / 1000).toFixed(3), samples.force[i]!.toFixed(3), ms, i) + end)
    .join('')

const comma = (text: string): string => text.replace('.', ',')
const grouped = (text: string, mark: string): string => text.replace(/\d(?=(?:\d{3})+(?:\.|$))/g, `$&${mark}`)
const two = (n: number): string => String(n).padStart(2, '0')
const clock = (ms: number, from = 86_390_000): string => {
  const of = (from + ms) % 86_400_000
  return `${two(Math.floor(of / 3_600_000))}:${two(Math.floor(of / 60_000) % 60)}:${two(Math.floor(of / 1000) % 60)}.${String(of % 1000).padStart(3, '0')}`
}

const text = (
  title: string,
  write: (s: Samples) => string,
  more: Partial<ShapeWriter> = {},
): ShapeWriter => ({
  title,
  write: samples => utf8(write(samples)),
  ...more,
})

/** One writer for each shape of log that carries time and force. */
export const writers: readonly ShapeWriter[] = [
  text('comma', s => `time_s,force_${s.unit}\n${rowsOf(s, (t, f) => `${t},${f}`)}`),
  text(
    'semicolon, decimal comma',
    s => `Zeit;Kraft [${s.unit}]\r\n${rowsOf(s, (t, f) => `${comma(t)};${comma(f)}`, '\r\n')}`,
  ),
  text('tab, CR', s => `time (s)\tforce (${s.unit})\r${rowsOf(s, (t, f) => `${t}\t${f}`, '\r')}`),
  text('bar', s => `time_s | F in ${s.unit}\n${rowsOf(s, (t, f) => `${t} | ${f}`)}`),
  text(
    'blanks',
    s => `t[s]   load[${s.unit}]\n${rowsOf(s, (t, f) => `${t.padStart(12)} ${f.padStart(12)}`)}`,
  ),
  text('no header, unit in the cell', s => rowsOf(s, (t, f) => `${t},${f} ${s.unit}`), {
    options: { time: '1' },
  }),
  text('unit in a cell of its own', s => `time_s,force,unit\n${rowsOf(s, (t, f) => `${t},${f},${s.unit}`)}`),
  text(
    'units row, comments, blank lines',
    s => `# rig\n\ntime,force\ns,${s.unit}\n\n${rowsOf(s, (t, f) => `${t},${f}\n`)}# end\n`,
  ),
  text('milliseconds', s => `t/ms;load/${s.unit}\n${rowsOf(s, (_, f, ms) => `${ms};${f}`)}`),
  text(
    'microseconds that wrap round',
    s =>
      `micros,force_${s.unit}\n${rowsOf(s, (_, f, ms) => `${(2 ** 32 - 3_000_000 + ms * 1000) % 2 ** 32},${f}`)}`,
  ),
  text(
    'thousands points',
    s =>
      `Zeit (s);Kraft (${s.unit})\n${rowsOf(s, (t, f) => `${comma(t)};${comma(f).replace(/\d(?=(?:\d{3})+,)/g, '$&.')}`)}`,
  ),
  text(
    'thousands apostrophes',
    s => `time_s;force_${s.unit}\n${rowsOf(s, (t, f) => `${t};${grouped(f, "'")}`)}`,
  ),
  text(
    'thousands commas, quoted',
    s => `time_s,force_${s.unit}\n${rowsOf(s, (t, f) => `"${t}","${grouped(f, ',')}"`)}`,
  ),
  text('clock with arrow, past midnight', s => rowsOf(s, (_, f, ms) => `${clock(ms)} -> ${f} ${s.unit}`)),
  text(
    'date-times',
    s =>
      `when,force_${s.unit}\n${rowsOf(s, (_, f, ms) => `${new Date(1_777_777_777_000 + ms).toISOString()},${f}`)}`,
  ),
  text(
    'date and clock',
    s =>
      `Date;Time;Force ${s.unit}\n${rowsOf(s, (_, f, ms) => `${ms < 10_000 ? '30.04' : '01.05'}.2026;${clock(ms)};${f}`)}`,
  ),
  text('key=value', s => rowsOf(s, (t, f) => `t=${t}s F=${f}${s.unit}`)),
  text('key: value', s => rowsOf(s, (t, f) => `time: ${t} s, force: ${f} ${s.unit}`)),
  text('JSON Lines', s => rowsOf(s, (t, f) => `{"time_s":${t},"force_${s.unit}":${f}}`)),
  text(
    'JSON document of arrays',
    s =>
      `{"columns":["time_s","force_${s.unit}"],"rows":[${rowsOf(s, (t, f) => `[${t},${f}]`, ',').slice(0, -1)}]}`,
  ),
  text('JSON document of columns', s =>
    JSON.stringify({ time_s: s.timeMs.map(ms => ms / 1000), [`force_${s.unit}`]: s.force }),
  ),
  text(
    'other columns on all sides',
    s =>
      `No,Temp °C,force_${s.unit},set force_${s.unit},time_s,note\n${rowsOf(s, (t, f, _, i) => `${i + 1},21.5,${f},${i % 3},${t},${i % 7 === 0 ? 'x' : ''}`)}`,
  ),
  text(
    'residue at the ends',
    s =>
      `time_s,force_${s.unit}\n${rowsOf(s, (t, f, _, i) => `${t},${f}${[',', ' ', '\\', ',,', '\t'][i % 5]}`)}\x1a`,
  ),
  text(
    'settings above',
    s => `Rig: 4\nRate,fast\n[Data]\ntime_s,force_${s.unit}\n${rowsOf(s, (t, f) => `${t},${f}`)}Total,1\n`,
  ),
  {
    title: 'UTF-16',
    write: s => utf16(`時間(s)\t荷重(${s.unit})\r\n${rowsOf(s, (t, f) => `${t}\t${f}`, '\r\n')}`),
  },
]
