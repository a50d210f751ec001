import { body, comma, d, dc, exportsList, GF, KGF, LBF, rows, two } from './support.ts'

/** Scales, gauges, stands and meters that write a log of their own. */
const { all, reads, asks } = exportsList()
export const ofInstruments = all

reads(
  'a hanging scale: net, gross and tare, one column of units',
  `No.,Date,Time,Net,Gross,Tare,Unit,State\n${body(852, r => `${r.i + 1},2024/05/04,10:${two(22 + Math.floor(r.i / 60))}:${two(r.i % 60)},${d(r.f, 1)},${d(r.f + 12, 1)},12.0,kg,ST`, '\r\n', 120, 1)}`,
  852 * KGF,
  'kgf',
  120,
  1,
)
reads(
  'gross, tare and net in kilograms',
  `time_s,gross_kg,tare_kg,net_kg\n${body(16.5, r => `${d(r.t)},${d(r.f + 2)},2.000,${d(r.f)}`)}`,
  16.5 * KGF,
  'kgf',
)
reads(
  'two cells and their sum',
  `Time (ms),Left cell (g),Right cell (g),Thrust (g),Torque (Nmm)\n${body(1250, r => `${r.i * 100},${d(r.f * 0.52, 1)},${d(r.f * 0.48, 1)},${d(r.f, 1)},${d(r.f / 9)}`)}`,
  1250 * GF,
  'gf',
)
reads(
  'left hand, right hand, both',
  `time,left_kg,right_kg,total_kg\n${body(65, r => `${d(r.t)},${d(r.f * 0.4)},${d(r.f * 0.6)},${d(r.f)}`)}`,
  65 * KGF,
  'kgf',
)
reads(
  'a grip meter with who pulled above',
  `Subject,12\nHand,right\nTrial,2\nTime (s),Grip force (kg)\n${body(45, r => `${d(r.t)},${d(r.f)}`)}`,
  45 * KGF,
  'kgf',
)
reads(
  'a drop, in microseconds',
  `Zeit [us];Kraft [kN]\n${body(8.4, r => `${r.i * 200};${dc(r.f, 4)}`)}`,
  8400,
  'kN',
  120,
  0.0002,
)
reads(
  'a slow pull with its greatest load above',
  `Sample: cord of 12 mm\nRig: hydraulic\nPeak: 23.41 kN\nt,kN\n${body(23.41, r => `${d(r.t)},${d(r.f)}`)}`,
  23_410,
  'kN',
)
reads(
  'a stand with a pressure beside',
  `Time (s),Thrust (lbs),Chamber pressure (psi)\n${body(85, r => `${d(r.t, 4)},${d(r.f)},${d(r.f * 6)}`)}`,
  85 * LBF,
  'lbf',
)
reads(
  'a peel, force and force on a width',
  `Time [s]\tPeel force [N]\tPeel strength [N/25mm]\tTravel [mm]\n${body(16.5, r => `${d(r.t)}\t${d(r.f)}\t${d(r.f)}\t${d(r.x)}`)}`,
  16.5,
  'N',
)
reads(
  'a name, then its unit, cell by cell',
  `;;Load cell;;Encoder;\nTime;s;Force;N;Travel;mm\n${body(165, r => `${dc(r.t)};;${dc(r.f)};;${dc(r.x)};`)}`,
  165,
  'N',
)
reads('a rate by its symbol', `dt = 0.02 s\nForce [N]\n${body(16.5, r => d(r.f))}`, 16.5, 'N', 120, 0.02)
reads(
  'a rate without its unit',
  `Sampling rate;50\nKraft [N]\n${body(16.5, r => dc(r.f))}`,
  16.5,
  'N',
  120,
  0.02,
)
reads('a rate by its symbol alone', `fs=10\n#force_N\n${body(165, r => d(r.f))}`, 165, 'N')
reads(
  'numbers of columns under a list of channels',
  `Channel;Name;Unit;Factor\n1;Time;s;1\n2;Force;N;1\n3;Travel;mm;1\n\n1;2;3\n${body(16.5, r => `${dc(r.t)};${dc(r.f)};${dc(r.x)}`)}`,
  16.5,
  'N',
)

const turns = (count: number): string =>
  `time_ms,force_N,travel_mm\n${rows(165, count)
    .map(r => `${r.i * 100},${d(r.f)},\n${r.i * 100 + 50},,${d(r.x)}`)
    .join('\n')}\n`
// What comes again every second row must not be passed over by whoever looks at every second row.
for (const count of [120, 600, 4000])
  reads(`two channels that take turns, ${count} rows each`, turns(count), 165, 'N', count)
for (const every of [5, 8, 16])
  reads(
    `a force in every ${every}th row only`,
    `time_ms,force_N,temp_C\n${rows(165, 12_000)
      .map(
        r =>
          `${r.i * 10},${r.i % every === 0 ? d(rows(165, 12_000 / every)[r.i / every]!.f) : ''},${r.i % every === 1 ? '21.4' : ''}`,
      )
      .join('\n')}\n`,
    165,
    'N',
    12_000 / every,
    every * 0.01,
  )

asks(
  'a load that stands still beside an unnamed column that is pulled',
  `Time (s),Load (N),A1\n${body(90, r => `${d(r.t)},0.00,${d(r.f)}`)}`,
)
asks(
  'settings by key',
  `Speed=50\nWidth=12\nThickness=3\nLength=100\nCell=500\nRate=20\nPreload=1\nLimit=400\nZero=0.2\nGain=128\n`,
)
asks(
  'a calibration',
  `Mass (kg),Reading\n${[0, 1, 2, 5, 10, 15, 20].map(m => `${m},${8123 + 2400 * m}`).join('\n')}\n`,
)
asks(
  'a spring, load over length',
  `No;Length mm;Load N\n${body(65, r => `${r.i + 1};${comma(d(r.x))};${comma(d(r.f))}`)}`,
)
