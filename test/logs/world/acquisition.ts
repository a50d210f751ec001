import { body, d, dc, exportsList, iso, KGF, LBF, seconds, two } from './support.ts'

/** Data acquisition. */
const { all, reads } = exportsList()
export const ofAcquisition = all

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
