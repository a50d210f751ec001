import { body, d, exportsList, GF, iso, KGF, rows, seconds } from './support.ts'

/** Scripts and boards. */
const { all, reads } = exportsList()
export const ofBoards = all

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

reads('a matrix of a script', `% data\ndata = [\n${body(165, r => `${d(r.t)} ${d(r.f)};`)}\n];\n`, 165, null)
reads(
  'names in quotes, one fewer than the numbered rows',
  `"Time.s" "Load.N"\n${body(165, r => `"${r.i + 1}" ${d(r.t)} ${d(r.f)}`)}`,
  165,
  'N',
)
reads(
  'a table in bars, ruled to the right',
  `| t (s) | F (N) |\n|------:|------:|\n${body(45, r => `| ${d(r.t)} | ${d(r.f)} |`)}`,
  45,
  'N',
)
reads(
  'a logger before a row of cells',
  body(165, r => `${iso(r).slice(0, 10)} ${iso(r).slice(11, 23)} [INFO] ${r.i * 100},${d(r.f)}`),
  165,
  null,
)
reads(
  'series of names and values in a document',
  JSON.stringify({
    series: [
      { name: 'time', unit: 's', values: rows(45).map(r => Number(d(r.t, 2))) },
      { name: 'force', unit: 'N', values: rows(45).map(r => Number(d(r.f))) },
    ],
  }),
  45,
  'N',
)
reads(
  'a weight called by its letter, its unit beside the samples',
  JSON.stringify({ unit: 'kg', samples: rows(45).map(r => ({ t: r.i * 100, w: Number(d(r.f)) })) }),
  45 * KGF,
  'kgf',
)
reads(
  'names and values as a script prints them',
  body(165, r => `{'t': ${d(r.t)}, 'force_N': ${d(r.f)}}`),
  165,
  'N',
)
reads('a list of short tables', `samples:\n${body(165, r => `  - {t: ${d(r.t)}, f: ${d(r.f)}}`)}`, 165, null)
reads(
  'a stamp before an object',
  body(45, r => `${iso(r)} ${JSON.stringify({ f: Number(d(r.f)), unit: 'N' })}`),
  45,
  'N',
)
reads(
  'the answer to a query',
  JSON.stringify({
    results: [
      {
        series: [
          {
            name: 'load',
            columns: ['time', 'force_N'],
            values: rows(45).map(r => [1.6e12 + r.i * 100, r.f]),
          },
        ],
      },
    ],
  }),
  45,
  'N',
)
reads(
  'one name and value a line',
  body(165, r => `Time: ${d(r.t)}\nForce: ${d(r.f)}\n---`),
  165,
  null,
)
reads(
  'one name and value with its unit a line, and blank lines',
  `boot ok\n${body(165, r => `force = ${d(r.f)} N\ntemp = 21.5 C\nt = ${r.i * 100} ms\n`)}`,
  165,
  'N',
)
