import { body, d, exportsList, rows } from './support.ts'

/** What only a person can settle, or what is no record. */
const { all, asks } = exportsList()
export const asked = all

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
asks('shares of the time', `Time (%),Force (N)\n${body(165, r => `${d(r.i / 1.2)},${d(r.f)}`)}`)
