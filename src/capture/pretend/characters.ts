import type { Act, BenchSpec } from './bench.ts'
import type { ConverterSpec } from './converter.ts'
import { benchFor, converterAt, noFaults, onePull, pullOf, relaxes, zeroedUnderLoad } from './parts.ts'
import type { Random } from './random.ts'
import type { PullSpec } from './spec.ts'
import type { BundleSpec, PullOutSpec } from './specimen.ts'

/** The three ways of fixing a handle in the demo, each with a curve of its own character. */
export type Character = 'hot-melt' | 'wheat-paste' | 'stitching'

export type Trouble = 'zeroed-under-load' | 'slip' | 'glitch' | 'tore-bag' | 'two-logs' | 'unrecorded'

/** Eight dots of hot-melt glue that let go one after another. */
const hotMelt = (random: Random): BundleSpec => ({
  law: 'bundle',
  elements: 8,
  strengthN: random.normal(11.5, 0.7),
  stiffnessNPerMm: random.between(3, 3.4),
  strengthScatter: 0.28,
  stiffnessScatter: 0.01,
  toeMm: 0.6,
  relaxation: relaxes(random, 0.05),
  holdOutS: 0.002,
  slackMm: 0,
  counted: true,
})

/** Paste that peels off by and by. */
const wheatPaste = (random: Random): PullOutSpec => ({
  law: 'pull-out',
  peakN: random.normal(48, 2.6),
  peakMm: random.between(2.6, 3.4),
  tail: random.between(1, 1.25),
  endMm: random.between(13, 16),
  snapMm: null,
  roughness: 0.01,
  toeMm: 0.8,
  relaxation: relaxes(random, 0.05),
})

/** About fourteen stitches; they share the load evenly enough, and go close together near the end. */
const stitches = (random: Random): BundleSpec => ({
  law: 'bundle',
  elements: 14,
  strengthN: random.normal(9.6, 0.5),
  stiffnessNPerMm: random.between(1.9, 2.2),
  strengthScatter: 0.16,
  stiffnessScatter: 0.02,
  toeMm: 1.2,
  relaxation: relaxes(random, 0.04),
  holdOutS: 0.002,
  slackMm: 0,
  counted: true,
})

const TAPE_SLACK_MM = 18

/** The hem tape under the stitches: it lies loose until they have gone. */
const hemTape = (random: Random): BundleSpec => ({
  ...stitches(random),
  elements: 1,
  strengthN: random.normal(62, 4),
  stiffnessNPerMm: random.between(14, 18),
  strengthScatter: 0.03,
  slackMm: TAPE_SLACK_MM,
  counted: false,
})

/** Paper that stretches and tears through at once. */
const paper = (random: Random): PullOutSpec => ({
  ...wheatPaste(random),
  peakN: random.normal(88, 3),
  peakMm: 5,
  snapMm: random.between(4.2, 4.8),
  roughness: 0.004,
})

const demoConverter = (random: Random): ConverterSpec =>
  converterAt(random, 40, { noiseN: 0.04, unit: 'kgf', quantum: 0.01, jitter: 0.02, stampDecimals: 3 })

/** The rig of the demo: a nut turned by hand. */
const demoBench = (random: Random, parts: BenchSpec['parts']): Omit<BenchSpec, 'acts'> => {
  const bench = benchFor(random, parts, { softness: 0.4, secondsToPeak: random.between(6, 9), by: 'hand' })
  return { ...bench, rigStiffnessNPerMm: 150, fallenWeightN: 0.02 }
}

const tapeActs = (random: Random): Act[] => [
  { do: 'back-off', speedMmPerS: 3 },
  { do: 'regrip', forS: random.between(4, 6), slackMm: 1 - TAPE_SLACK_MM, knocks: 2 },
  { do: 'wait', forS: random.between(1, 2) },
  { do: 'pull', until: { what: 'part-gone', part: 1 }, overrunS: 0.5 },
  { do: 'wait', forS: 2.5 },
  { do: 'end-log' },
]

const secondLog = (random: Random): Act[] => [
  { do: 'pull', until: { what: 'force', forceN: random.between(55, 70) }, overrunS: 0 },
  { do: 'wait', forS: 1 },
  { do: 'back-off', speedMmPerS: 2 },
  { do: 'wait', forS: 2 },
  { do: 'end-log' },
  { do: 'regrip', forS: 5, slackMm: 0.5, knocks: 2 },
  { do: 'zero' },
  { do: 'start-log' },
  { do: 'wait', forS: 2 },
]

/** One demo specimen: what is pulled, how, and what goes wrong. */
export function characterSpec(random: Random, character: Character, trouble: Trouble | null): PullSpec {
  const converter = demoConverter(random)
  if (trouble === 'tore-bag') return pullOf(demoBench(random, [paper(random)]), onePull(random), converter)
  if (character === 'wheat-paste') {
    const faults = trouble === 'glitch' ? { ...noFaults, spikes: 1 } : noFaults
    return pullOf(demoBench(random, [wheatPaste(random)]), onePull(random), converter, faults)
  }
  if (character === 'hot-melt') {
    const bench = demoBench(random, [hotMelt(random)])
    const slips = trouble === 'slip' ? [{ atN: 38, share: 0.14 }] : []
    const acts = trouble === 'zeroed-under-load' ? zeroedUnderLoad(random, 8.5, 3) : onePull(random)
    return pullOf({ ...bench, slips }, acts, converter)
  }
  const bench = demoBench(random, [stitches(random), hemTape(random)])
  const pull = onePull(random)
  if (trouble === 'unrecorded') return pullOf(bench, pull, converter)
  const start = trouble === 'two-logs' ? [...pull.slice(0, 4), ...secondLog(random), ...pull.slice(4)] : pull
  return pullOf(bench, [...start.slice(0, -1), ...tapeActs(random)], converter)
}
