import { body, comma, d, dc, exportsList, grouped, KGF, LBF, type Row } from './support.ts'

/** Testing frames, in several languages. */
const { all, reads } = exportsList()
export const ofFrames = all

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
