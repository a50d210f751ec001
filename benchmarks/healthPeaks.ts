import { readFileSync, writeFileSync } from 'node:fs'
import type { ConverterSpec } from '../src/capture/pretend/converter.ts'
import { makePull, makeRigCheck } from '../src/capture/pretend/index.ts'
import type { RigTroubles } from '../src/capture/pretend/troubles.ts'
import { parseRig } from '../src/core/calibration/rig.ts'
import { entryOf } from '../src/core/health/entry.ts'
import { judgeHealth } from '../src/core/health/judgeHealth.ts'
import { knownRigOf } from '../src/core/health/knownRig.ts'
import { healthWords } from '../src/core/health/units.ts'
import type { KnownRig } from '../src/core/reading/knownRig.ts'
import { readRecording } from '../src/core/reading/readRecording.ts'

/**
 * Whether the true peaks of pretend pulls lie in their intervals while something ails the rig, with and without a check
 * that found it (`node scripts/bench.mjs healthPeaks`; TENTERHOOK_SEEDS of each kind, from TENTERHOOK_FIRST on). A table, not a
 * speed; TENTERHOOK_INTO=docs/rig-health.md writes it there.
 */
const SEEDS = Number(process.env.TENTERHOOK_SEEDS ?? 10)
const FIRST = Number(process.env.TENTERHOOK_FIRST ?? 301)
const into = process.env.TENTERHOOK_INTO
const KINDS = [
  'saw-tooth',
  'brittle',
  'slips',
  'hot-melt',
  'strokes',
  'stitching',
  'hands',
  'pull-out-snap',
  'inner-part',
  'drifting',
] as const

const glitches = { doubled: 0.004, halved: 0.003, ones: 0.003, channel: 0.004 }
interface Given {
  readonly passes?: readonly number[]
  readonly troubles?: RigTroubles
}
const conditions: Record<string, (converter: ConverterSpec) => Given> = {
  nothing: () => ({}),
  'glitches of four kinds, 1.4 % of the readings': () => ({ troubles: { glitches } }),
  'hum of 3 noises': ({ noiseN }) => ({ troubles: { hum: { hz: 50.02, amplitudeN: 3 * noiseN } } }),
  'converter settles in 4 readings': () => ({ passes: [4] }),
  'device takes the mean of 6': () => ({ troubles: { deviceMean: 6 } }),
  'glitches, hum, drift and settling': ({ noiseN }) => ({
    passes: [3],
    troubles: {
      glitches,
      hum: { hz: 50.02, amplitudeN: 2 * noiseN },
      driftNPerMin: 4 * noiseN,
    },
  }),
}

/** What a check of that rig tells: all four steps, judged and kept in its description. */
function knownBy(seed: number, converter: ConverterSpec, troubles: RigTroubles = {}): KnownRig | null {
  const { logs, spec } = makeRigCheck(seed, chosen => ({ ...chosen, converter, troubles }))
  const health = judgeHealth(logs, { ...healthWords(converter.unit), massN: spec.massN })
  if (!health.ok) throw new Error(health.problems[0]?.what)
  const rig = parseRig(JSON.stringify({ health: [entryOf(health.value, '2031-05-04T10:00:00.000Z')] }), 'rig')
  if (!rig.ok) throw new Error(rig.problems[0]?.what)
  return knownRigOf(rig.value)
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0

const rows = [
  '| what ails the rig | in the interval, no check | with a check | half-width, no check | with a check |',
  '| --- | --: | --: | --: | --: |',
]
const all = { plain: [] as boolean[], known: [] as boolean[] }
const inside = (held: readonly boolean[]): string =>
  `${held.filter(Boolean).length} of ${held.length} (${((100 * held.filter(Boolean).length) / held.length).toFixed(1)} %)`
for (const [name, give] of Object.entries(conditions)) {
  const held = { plain: [] as boolean[], known: [] as boolean[] }
  const halves = { plain: [] as number[], known: [] as number[] }
  for (const kind of KINDS) {
    for (let seed = FIRST; seed < FIRST + SEEDS; seed++) {
      let known: KnownRig | null = null
      const { recording, truth } = makePull({
        kind,
        seed,
        change: spec => {
          const { passes = spec.converter.passes, troubles } = give(spec.converter)
          known = knownBy(seed, { ...spec.converter, passes }, troubles)
          return { ...spec, converter: { ...spec.converter, passes }, ...(troubles ? { troubles } : {}) }
        },
      })
      if (!truth.peakKnown) continue
      for (const [which, told] of [
        ['plain', null],
        ['known', known],
      ] as const) {
        const elements = truth.elements > 0 ? truth.elements : null
        const { lowN, highN } = readRecording(recording, { elements, known: told }).results.peakForce
        const low = lowN ?? Number.NEGATIVE_INFINITY
        const high = highN ?? Number.POSITIVE_INFINITY
        held[which].push(low <= truth.peakN && truth.peakN <= high)
        halves[which].push((high - low) / 2 / truth.peakN)
      }
    }
  }
  const half = (which: 'plain' | 'known') => `${(100 * median(halves[which])).toFixed(2)} %`
  all.plain.push(...held.plain)
  all.known.push(...held.known)
  rows.push(
    `| ${name} | ${inside(held.plain)} | ${inside(held.known)} | ${half('plain')} | ${half('known')} |`,
  )
  console.log(rows.at(-1))
}
rows.push(`| all of it | ${inside(all.plain)} | ${inside(all.known)} | | |`)
console.log(rows.join('\n'))
if (into !== undefined) {
  const marks = /(<!-- measured peaks: made by a script -->\n)[\s\S]*?(<!-- end of measured peaks -->)/
  writeFileSync(
    into,
    readFileSync(into, 'utf8').replace(marks, (_, start, end) => `${start}${rows.join('\n')}\n${end}`),
  )
}
