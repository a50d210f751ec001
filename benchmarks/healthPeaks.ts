import type { ConverterSpec } from '../src/capture/pretend/converter.ts'
import { makePull } from '../src/capture/pretend/index.ts'
import type { RigTroubles } from '../src/capture/pretend/troubles.ts'
import type { KnownRig } from '../src/core/reading/knownRig.ts'
import { readRecording } from '../src/core/reading/readRecording.ts'

/**
 * Whether the true peaks of pretend pulls lie in their intervals while something ails the rig, with and without a check
 * that found it (`node scripts/bench.mjs healthPeaks`; TENTERHOOK_SEEDS of each kind). A table, not a speed.
 */
const SEEDS = Number(process.env.TENTERHOOK_SEEDS ?? 3)
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
  glitches: () => ({ troubles: { glitches } }),
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

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0)
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0

console.log(
  '| what ails the rig | peaks | in the interval, no check | with a check | half-width, no check | with a check |',
)
console.log('| --- | --: | --: | --: | --: | --: |')
for (const [name, give] of Object.entries(conditions)) {
  const held = { plain: [] as boolean[], known: [] as boolean[] }
  const halves = { plain: [] as number[], known: [] as number[] }
  for (const kind of KINDS) {
    for (let seed = 1; seed <= SEEDS; seed++) {
      let known: KnownRig | null = null
      const { recording, truth } = makePull({
        kind,
        seed,
        change: spec => {
          const { passes = spec.converter.passes, troubles } = give(spec.converter)
          known = {
            source: 'check of 2031-05-04',
            settlingReadings: troubles?.deviceMean ?? sum(passes),
            humN: troubles?.hum?.amplitudeN ?? null,
            driftNPerMin: troubles?.driftNPerMin ?? null,
          }
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
  const of = (which: 'plain' | 'known') => `${held[which].filter(Boolean).length} of ${held[which].length}`
  const half = (which: 'plain' | 'known') => `${(100 * median(halves[which])).toFixed(2)} %`
  console.log(
    `| ${name} | ${held.plain.length} | ${of('plain')} | ${of('known')} | ${half('plain')} | ${half('known')} |`,
  )
}
