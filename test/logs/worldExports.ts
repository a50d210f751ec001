import type { LogForceUnit } from '../../src/core/units/force.ts'

/** A pull whose truth is known, as many programs and boards would write it. Invented, none is a real export. */
export interface WorldExport {
  readonly name: string
  readonly text: string
  /** What must be read; `null` where the file must be asked about or refused. */
  readonly want: {
    readonly peakN: number
    readonly unit: LogForceUnit | null
    readonly samples?: number
    readonly stepS?: number
  } | null
}

interface Row {
  readonly i: number
  readonly t: number
  readonly f: number
  readonly x: number
}

const KGF = 9.80665
const GF = 9.80665e-3
const LBF = 4.4482216152605

/** Rest, a rise that bends over to the peak at 70 %, a break, rest. */
function forceAt(i: number, rows: number, peak: number): number {
  const top = Math.floor(rows * 0.7)
  if (i < 20 || i > top) return 0.001 * peak * (((i * 7) % 5) - 2)
  return peak * Math.sin((((i - 20) / (top - 20)) * Math.PI) / 2) ** 1.2
}

const rows = (peak: number, count = 120, stepS = 0.1): Row[] =>
  Array.from({ length: count }, (_, i) => ({
    i,
    t: i * stepS,
    f: forceAt(i, count, peak),
    x: i * 0.05 + 0.0007 * i * i,
  }))

const comma = (text: string): string => text.replace('.', ',')
const d = (value: number, digits = 3): string => value.toFixed(digits)
const dc = (value: number, digits = 3): string => comma(d(value, digits))
const two = (value: number): string => String(value).padStart(2, '0')
const seconds = (value: number, digits = 3): string =>
  value.toFixed(digits).padStart(digits === 0 ? 2 : digits + 3, '0')
const iso = (r: Row): string => new Date(1.6e12 + r.t * 1000).toISOString()

/** `12.840,50`, `12 840,50`, `12'840.50`. */
function grouped(value: number, mark: string, decimal: string): string {
  const [whole = '', fraction = ''] = Math.abs(value).toFixed(2).split('.')
  return `${value < 0 ? '-' : ''}${whole.replace(/\B(?=(\d{3})+$)/g, mark)}${decimal}${fraction}`
}

const body = (peak: number, row: (r: Row) => string, end = '\n', count = 120, stepS = 0.1): string =>
  rows(peak, count, stepS).map(row).join(end)

const all: WorldExport[] = []
const reads = (
  name: string,
  text: string,
  peakN: number,
  unit: LogForceUnit | null,
  samples: number | undefined = 120,
  stepS: number | undefined = 0.1,
): void => {
  all.push({
    name,
    text,
    want: {
      peakN,
      unit,
      ...(samples > 0 ? { samples } : {}),
      ...(stepS > 0 ? { stepS } : {}),
    },
  })
}
const asks = (name: string, text: string): void => {
  all.push({ name, text, want: null })
}

// Testing frames, in several languages.
const semi = (r: Row, digits = 3): string => `${dc(r.t, 2)};${dc(r.x, 4)};${dc(r.f, digits)}`
reads(
  'German, quoted, settings and results above',
  `"Prüfprotokoll";"Zugversuch"\r\n"Prüfer";"A. B."\r\n"Vorkraft";"0,1";"MPa"\r\n"Fmax";"812,40";"N"\r\n\r\n"Prüfzeit";"Traversenweg";"Standardkraft"\r\n"s";"mm";"N"\r\n${body(812.4, r => `"${dc(r.t, 2)}";"${dc(r.x, 4)}";"${dc(r.f)}"`, '\r\n')}\r\n`,
  812.4,
  'N',
)
reads(
  'French',
  `Essai de traction\nDate;12/03/2021\nÉprouvette;E4\n\nTemps (s);Déplacement (mm);Charge (kN)\n${body(3.42, r => semi(r, 5))}`,
  3420,
  'kN',
)
reads(
  'Spanish, a row of units in brackets',
  `Ensayo: tracción\nProbeta: 3\n\nTiempo\tDesplazamiento\tFuerza\tDeformación\n(seg)\t(mm)\t(kgf)\t(%)\n${body(55, r => `${d(r.t, 2)}\t${d(r.x, 4)}\t${d(r.f)}\t${d(r.x * 2)}`)}`,
  55 * KGF,
  'kgf',
)
for (const [name, header, unit, per] of [
  ['Portuguese', 'Tempo;Deslocamento;Força\ns;mm;kN', 'kN', 1000],
  ['Polish', 'Czas [s];Wydłużenie [mm];Siła [N]', 'N', 1],
  ['Italian', 'Prova di trazione\nTempo (sec);Corsa (mm);Carico (N)', 'N', 1],
  ['Czech', 'Čas;Posuv;Síla\n[s];[mm];[N]', 'N', 1],
  ['Turkish', 'Zaman (sn);Uzama (mm);Kuvvet (N)', 'N', 1],
  ['Hungarian', 'Idő [s];Elmozdulás [mm];Erő [N]', 'N', 1],
  ['Russian', 'Время, с;Перемещение, мм;Нагрузка, кН', 'kN', 1000],
  ['Dutch', 'Tijd [s];Verplaatsing [mm];Kracht [N]', 'N', 1],
  ['Finnish', 'Aika (s);Siirtymä (mm);Voima (N)', 'N', 1],
] as const)
  reads(name, `${header}\n${body(640, r => semi(r))}`, 640 * per, unit)
reads(
  'Chinese, numbered rows',
  `序号,时间(s),位移(mm),力(N)\n${body(640, r => `${r.i + 1},${d(r.t, 2)},${d(r.x, 4)},${d(r.f, 2)}`)}`,
  640,
  'N',
)
for (const [name, mark, decimal, cell] of [
  ['points', '.', ',', (text: string) => text],
  ['narrow blanks', '\u202f', ',', (text: string) => text],
  ['apostrophes', "'", '.', (text: string) => text],
] as const)
  reads(
    `thousands marked with ${name}`,
    `Zeit;Weg;Kraft\ns;mm;N\n${body(12_840.5, r => `${(decimal === ',' ? dc : d)(r.t, 2)};${(decimal === ',' ? dc : d)(r.x)};${cell(grouped(r.f, mark, decimal))}`)}`,
    12_840.5,
    'N',
  )
reads(
  'thousands marked with commas, all quoted',
  `"Time (s)","Extension (mm)","Load (N)"\n${body(12_840.5, r => `"${d(r.t)}","${d(r.x)}","${grouped(r.f, ',', '.')}"`)}`,
  12_840.5,
  'N',
)
reads(
  'names over three lines',
  `Axial\tAxial\tRunning\nForce\tDisp.\tTime\n(kN)\t(mm)\t(s)\n${body(9, r => `${d(r.f)}\t${d(r.x)}\t${d(r.t)}`)}`,
  9000,
  'kN',
)
reads('names that hold commas', `"Time, s","Load, N"\n${body(90, r => `${d(r.t)},${d(r.f)}`)}`, 90, 'N')
reads(
  'a command beside the feedback',
  `Time,Cmd Force (N),Force Fbk (N),Pos Fbk (mm)\n${body(45, r => `${d(r.t, 2)},${d(r.i * 0.5, 2)},${d(r.f, 2)},${d(r.x)}`)}`,
  45,
  'N',
)
reads(
  'axial channels and a count of cycles',
  `"Axial Count (cycles)","Running Time (s)","Axial Displacement (mm)","Axial Force (kN)","Axial Displacement Command"\n${body(45, r => `0,${d(r.t, 2)},${d(r.x)},${d(r.f, 4)},${d(r.x + 0.1)}`)}`,
  45_000,
  'kN',
)
reads(
  'results after the samples',
  `Time (s),Load (N)\n${body(450, r => `${d(r.t, 2)},${d(r.f, 4)}`)}\n\nMaximum Load (N),450.0\nBreak time (s),8.4\n`,
  450,
  'N',
)
reads(
  'a table of results above another of samples',
  `Specimen,Max Load (N),Modulus (MPa)\n1,90.0,2100\n2,95.0,2200\n\nTime (s),Load (N),Ext (mm)\n${body(90, r => `${d(r.t)},${d(r.f)},${d(r.x)}`)}`,
  90,
  'N',
)
reads(
  'quantities over their units',
  `t/s;F/N;s/mm\n${body(45, r => `${dc(r.t, 2)};${dc(r.f, 2)};${dc(r.x)}`)}`,
  45,
  'N',
)
reads(
  'exponents with commas',
  `Zeit [s];Kraft [N]\n${body(90, r => `${comma(r.t.toExponential(5)).toUpperCase()};${comma(r.f.toExponential(5)).toUpperCase()}`)}`,
  90,
  'N',
)
reads(
  'blank columns between',
  `Time (s),,Load (N),,Ext (mm)\n${body(90, r => `${d(r.t)},,${d(r.f)},,${d(r.x)}`)}`,
  90,
  'N',
)
reads('a tab before each line', `\tTime\tLoad\n\ts\tN\n${body(90, r => `\t${d(r.t)}\t${d(r.f)}`)}`, 90, 'N')
reads(
  'kilograms-force',
  `Elapsed Time,Tension (Kilograms-force)\n${body(90, r => `${d(r.t)},${d(r.f)}`)}`,
  90 * KGF,
  'kgf',
)
reads('lb-f', `Elapsed Time (sec),Load (lb-f)\n${body(90, r => `${d(r.t)},${d(r.f)}`)}`, 90 * LBF, 'lbf')
reads('thousands of newton', `Time (sec),Load (x1000 N)\n${body(9, r => `${d(r.t)},${d(r.f)}`)}`, 9000, 'N')
reads('minutes', `Time (min),Load (N)\n${body(45, r => `${d(r.t / 60, 6)},${d(r.f)}`)}`, 45, 'N')
reads(
  'room at the end that was not filled',
  `time,force_N\n${body(90, r => `${d(r.t)},${d(r.f)}`)}\n${'0.000,0.000\n'.repeat(80)}`,
  90,
  'N',
)
reads(
  'not a number at the end',
  `time,force_N\n${body(90, r => `${d(r.t)},${d(r.f)}`)}\n${'NaN,NaN\n'.repeat(80)}`,
  90,
  'N',
)

// Data acquisition.
reads(
  'channels numbered above, the rate before its number',
  `File: run5.asc\nSample rate [Hz]: 50\nChannels: 2\nChannel 1: Load cell [kN], scale 1.0, offset 0\nChannel 2: LVDT [mm], scale 1.0, offset 0\n\n${body(4.5, r => `${d(r.f, 5)}\t${d(r.x, 4)}`)}`,
  4500,
  'kN',
  120,
  0.02,
)
reads(
  'only units above',
  `Units: s, mm, N\nData:\n${body(45, r => `${d(r.t)} ${d(r.x)} ${d(r.f)}`)}`,
  45,
  'N',
)
reads('units behind a comment mark', `# units: s N\n${body(90, r => `${d(r.t)} ${d(r.f)}`)}`, 90, 'N')
reads(
  'clock time of minutes and tenths',
  `Time,Force (lbf)\n${body(45, r => `00:${two(Math.floor(r.t / 60))}:${seconds(r.t % 60, 1)},${d(r.f)}`)}`,
  45 * LBF,
  'lbf',
)
reads(
  'ISO stamps with a zone',
  `timestamp;F[N]\n${body(45, r => `${iso(r).replace('Z', '+02:00')};${dc(r.f)}`)}`,
  45,
  'N',
)
reads(
  'days of a spreadsheet',
  `Date,Load (kg)\n${body(45, r => `${(44_000.5 + r.t / 86_400).toFixed(10)},${d(r.f)}`)}`,
  45 * KGF,
  'kgf',
)
reads(
  'an American date',
  `Timestamp,Force (N)\n${body(90, r => `3/14/2023 2:05:${seconds(6 + r.t)} PM,${d(r.f)}`)}`,
  90,
  'N',
)
reads(
  'many rows a second, stamped in whole seconds',
  `DateTime;kg\n${body(9, r => `2023-03-14 14:05:${two(Math.floor(6 + r.t))};${d(r.f)}`)}`,
  9 * KGF,
  'kgf',
)
reads(
  'date and clock in two columns',
  `Datum;Uhrzeit;Kraft [N]\n${body(90, r => `14.03.2022;14:${two(5 + Math.floor(r.t / 60))}:${two(r.t % 60)};${dc(r.f)}`, '\n', 120, 1)}`,
  90,
  'N',
  120,
  1,
)
reads(
  'six columns of a date',
  `year,month,day,hour,minute,second,force_N\n${body(90, r => `2022,3,14,14,5,${d(r.t)},${d(r.f)}`)}`,
  90,
  'N',
)
reads(
  'a table in bars',
  `| time (s) | force (N) |\n|---|---|\n${body(45, r => `| ${d(r.t)} | ${d(r.f)} |`)}`,
  45,
  'N',
)
reads(
  'fixed widths, units and a ruler',
  `   Time      Load   Stroke\n    (s)       (N)     (mm)\n ------   -------   ------\n${body(45, r => `${d(r.t, 2).padStart(7)}${d(r.f, 2).padStart(10)}${d(r.x).padStart(9)}`)}`,
  45,
  'N',
)
reads('carriage returns only', `Time (s),Load (N)\r${body(45, r => `${d(r.t, 2)},${d(r.f)}`, '\r')}`, 45, 'N')
reads(
  'a mark of bytes and the separator told',
  `\ufeffsep=;\r\nZeit (s);Kraft (N)\r\n${body(45, r => `${dc(r.t)};${dc(r.f)}`, '\r\n')}`,
  45,
  'N',
)
reads(
  'sections of settings',
  `[Header]\nDate=2022-01-01\nForceUnit=N\nTimeUnit=s\n[Data]\n${body(90, r => `${d(r.t)};${d(r.f)}`)}`,
  90,
  'N',
)
reads(
  'one axis of three is pulled',
  `%time,header.seq,header.stamp,wrench.force.x,wrench.force.y,wrench.force.z,wrench.torque.x\n${body(28, r => `${1.6e18 + r.i * 1e8},${r.i},${1.6e18 + r.i * 1e8},${d(r.f * 0.01)},${d(0.02 * Math.sin(r.i))},${d(r.f)},${d(r.f / 30)}`)}`,
  28,
  null,
)

// Scripts and boards.
reads(
  'columns in a comment, exponents',
  `% Specimen 4\n% columns: time [s], displacement [mm], force [N]\n${body(450, r => `   ${r.t.toExponential(7)}   ${r.x.toExponential(7)}   ${r.f.toExponential(7)}`)}`,
  450,
  'N',
)
reads(
  'names in a comment',
  `# time_s force_N\n${body(450, r => `${r.t.toExponential(18)} ${r.f.toExponential(18)}`)}`,
  450,
  'N',
)
reads('rows with an index', `,time,force\n${body(450, r => `${r.i},${d(r.t, 2)},${d(r.f, 4)}`)}`, 450, null)
reads(
  'rows with a quoted number and names one fewer',
  `"time" "force"\n${body(450, r => `"${r.i + 1}" ${d(r.t, 2)} ${d(r.f, 4)}`)}`,
  450,
  null,
)
reads(
  'words beside each value',
  body(523, r => `Time: ${Math.round(r.t * 1000)} ms, Weight: ${d(r.f, 1)} g`, '\r\n'),
  523 * GF,
  'gf',
)
reads(
  'keys parted by commas only',
  body(52.3, r => `t_ms:${r.i * 100},Force_N:${d(r.f)},Target:30`, '\r\n'),
  52.3,
  'N',
)
reads(
  'a stamp and an arrow',
  body(523, r => `12:01:${seconds(10 + r.t)} -> ${d(r.f, 2)} N`, '\r\n'),
  523,
  'N',
)
reads(
  'how grave, when in seconds and by whom',
  body(45, r => `[INFO] [${(1.6e9 + r.t).toFixed(6)}] [rig]: force = ${d(r.f)} N`),
  45,
  'N',
)
reads(
  'date, clock with a comma and how grave',
  body(
    45,
    r => `${iso(r).slice(0, 10)} ${iso(r).slice(11, 19)},${iso(r).slice(20, 23)} - INFO - force: ${d(r.f)} N`,
  ),
  45,
  'N',
)
reads(
  'since 1970 in ms, counts beside grams',
  `epoch_ms,raw,grams\n${body(450, r => `${1.6e12 + r.i * 100},${Math.round(r.f * 420 + 83_000)},${d(r.f, 2)}`)}`,
  450 * GF,
  'gf',
)
reads(
  'a thrust stand',
  `Time (s),ESC (µs),Torque (N·m),Thrust (kgf),Voltage (V),Current (A),RPM\n${body(2.5, r => `${d(r.t, 2)},${1000 + r.i},${d(r.f / 50)},${d(r.f, 4)},11.1,${d(r.f * 4, 2)},${Math.round(r.f * 2000)}`)}`,
  2.5 * KGF,
  'kgf',
)
reads(
  'a document of two arrays',
  JSON.stringify({
    meta: { unit: 'N' },
    time: rows(45).map(r => Number(d(r.t, 2))),
    force: rows(45).map(r => Number(d(r.f))),
  }),
  45,
  'N',
)
reads(
  'an object a line',
  body(45, r => JSON.stringify({ timestamp: iso(r), value: Number(d(r.f)), unit: 'N' })),
  45,
  'N',
)

reads(
  'a letter and milliseconds since the start',
  body(90, r => `I (${12_345 + r.i * 100}) scale: force=${d(r.f)} N`),
  90,
  'N',
)
reads(
  'a rate in three cells above',
  `Sample rate,50,Hz\nForce (N)\n${body(90, r => d(r.f))}`,
  90,
  'N',
  120,
  0.02,
)
reads(
  'results beside the first samples',
  `Time (s),Load (N),,Result,Value\n${body(90, r => `${d(r.t)},${d(r.f)},,${r.i < 3 ? ['Max load,90', 'Width,12', 'Area,36'][r.i] : ','}`)}`,
  90,
  'N',
)
reads(
  'a typographic minus and the axis that is pulled',
  `t,Fx,Fy,Fz\n${body(90, r => `${d(r.t)},${d(0.01 * r.f)},${d(-0.02 * r.f)},${d(r.f).replace('-', '−')}`)}`,
  90,
  null,
)

// What only a person can settle, or what is no record.
const threes = [450, 460, 470].map(peak => rows(peak))
asks(
  'three specimens side by side',
  `Specimen 1,,,Specimen 2,,,Specimen 3,,\nTime (s),Load (N),Ext (mm),Time (s),Load (N),Ext (mm),Time (s),Load (N),Ext (mm)\n${rows(
    450,
  )
    .map((_, i) =>
      threes.map(three => `${d(three[i]!.t, 2)},${d(three[i]!.f)},${d(three[i]!.x, 4)}`).join(','),
    )
    .join('\n')}`,
)
asks('no time', `Displacement (mm),Load (N)\n${body(45, r => `${d(r.x)},${d(r.f)}`)}`)
asks('no force', `Strain (%),Stress (MPa)\n${body(45, r => `${d(r.x)},${d(r.f)}`)}`)
asks(
  'two live cells',
  `Time (s),Load Cell 1 (N),Load Cell 2 (N)\n${body(90, r => `${d(r.t)},${d(r.f)},${d(r.f * 0.5 + (r.i % 3) * 0.01)}`)}`,
)
asks(
  'two unnamed columns beside the time',
  body(45, r => `${d(r.t, 2)} ${d(r.x)} ${d(r.f)}`),
)
asks(
  'readings along one line',
  body(90, r => d(r.f), ','),
)
asks('readings along two lines', `time,${body(90, r => d(r.t), ',')}\nforce,${body(90, r => d(r.f), ',')}`)
asks(
  'results only, numbered',
  `Specimen,Max load (N),Width (mm)\n${Array.from({ length: 14 }, (_, i) => `${i + 1},${d(90 + i * 1.3)},${d(10 + 0.01 * i)}`).join('\n')}`,
)
asks(
  'results only, named',
  `Specimen,Max load (N),Width (mm)\n${Array.from({ length: 14 }, (_, i) => `S${i + 1},${d(90 + i * 1.3)},${d(10 + 0.01 * i)}`).join('\n')}`,
)
asks('two readings', 'Time (s),Force (N)\n0,0\n1,5\n')
asks('two readings without names', '0.0,1.0\n0.1,2.0')
asks('a header alone', 'Time (s),Force (N)\n')
asks('a page', `<table>\n${body(90, r => `<tr><td>${d(r.t)}</td><td>${d(r.f)}</td></tr>`)}\n</table>`)

export const worldExports: readonly WorldExport[] = all
