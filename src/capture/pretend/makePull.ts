import type { Recording } from '../../core/recording.ts'
import { N_PER } from '../../core/units/force.ts'
import { joinRecordings } from '../../logs/index.ts'
import { type Happening, play } from './bench.ts'
import { convert, type Output, stepsPerOutput } from './converter.ts'
import { type Faulted, spoil } from './faults.ts'
import type { Setting } from './kinds/start.ts'
import { type PretendKind, specOf } from './kinds.ts'
import { type Random, seeded, wordOf } from './random.ts'
import { recordingOf } from './recordings.ts'
import type { PullSpec } from './spec.ts'
import { type RigTroubles, troubledCell, troubledOutput } from './troubles.ts'
import { loadedFromN, longestRestS, type Truth, trueEvents, truePulls, type Window } from './truth.ts'
import { verdictOf } from './verdict.ts'

export interface PullOptions {
  readonly kind: PretendKind
  readonly seed: number
  /** File name given to the recording. */
  readonly name?: string
  /** Rate and zeroing of a kind that comes in any; the others have their own. */
  readonly setting?: Partial<Setting>
  /** Changes to what the kind and the seed chose. */
  readonly change?: (spec: PullSpec) => PullSpec
}

export interface PretendPull {
  /** All logs of the specimen on one time axis. */
  readonly recording: Recording
  /** Each log by itself. */
  readonly logs: readonly Recording[]
  readonly truth: Truth
}

/** One specimen pulled on the pretend rig: the same kind and seed give the same pull, sample for sample. */
export function makePull({
  kind,
  seed,
  name = `${kind}-${seed}.csv`,
  setting = {},
  change,
}: PullOptions): PretendPull {
  const random = seeded((seed ^ wordOf(kind)) >>> 0)
  const chosen = specOf(kind, random, setting)
  return pullFrom(change ? change(chosen) : chosen, { name, family: kind, seed })
}

/** Plays a specification. `seed` drives strengths, hands and noise. */
export function pullFrom(
  spec: PullSpec,
  { name, family, seed }: { name: string; family: string; seed: number },
): PretendPull {
  const random = seeded((wordOf(`${family} bench`) + Math.imul(seed, 0x9e3779b1)) >>> 0)
  const stepS = 1 / (spec.converter.rateHz * stepsPerOutput(spec.converter.rateHz))
  const played = play(spec.bench, stepS, 1 / spec.converter.rateHz, random)
  // Troubles draw from a stream of their own: a pull with them is the very pull without.
  const ailing = seeded((wordOf(`${family} troubles`) + Math.imul(seed, 0x9e3779b1)) >>> 0)
  const { troubles } = spec
  const happening = troubles ? troubledCell(played, spec.converter, troubles, ailing) : played
  const faulted = convert(happening, spec.converter, random).map((output, i) => {
    const clearOf = momentsOf(happening, happening.logs[i]!.from)
    const topS = clearOf.at(-1)!
    const spoilt = spoil(output, spec.faults, clearOf, topS, 1 / spec.converter.rateHz, random)
    return troubles ? ailed(spoilt, spec, troubles, ailing) : spoilt
  })
  const logs = faulted.map((f, i) =>
    recordingOf(f.output, spec, i === 0 ? name : name.replace(/(\.\w+)?$/, `-log${i + 1}$1`)),
  )
  const joined = joinRecordings(logs)
  if (!joined.ok) throw new Error(`a pretend pull has logs that do not join: ${joined.problems[0]?.what}`)
  const recording = joined.value
  return { recording, logs, truth: truthOf(happening, faulted, recording, spec, { name, family, seed }) }
}

/** A log of which the troubles of the rig have had their part. */
function ailed(log: Faulted, { converter }: PullSpec, troubles: RigTroubles, random: Random): Faulted {
  const { output, truth } = troubledOutput(log.output, converter, troubles, random)
  const spikes = [...log.spikes, ...truth.glitches.map(({ t }) => ({ t }))]
  return {
    output,
    spikes: spikes.sort((a, b) => a.t - b.t),
    gaps: [...log.gaps, ...truth.holes].sort((a, b) => a.from - b.from),
  }
}

/** Breaks, slips, new zeros and, last, the greatest force, in seconds from a log's first step. */
function momentsOf(happening: Happening, from: number): number[] {
  let peak = 0
  for (let i = 0; i < happening.forceN.length; i++)
    if (happening.forceN[i]! > happening.forceN[peak]!) peak = i
  const steps = [
    ...happening.fractures.map(f => f.step),
    ...happening.slips.map(s => s.step),
    ...happening.zeros,
    peak,
  ]
  return steps.map(step => (step - from) * happening.stepS)
}

function truthOf(
  happening: Happening,
  faulted: readonly Faulted[],
  recording: Recording,
  spec: PullSpec,
  { name, family, seed }: { name: string; family: string; seed: number },
): Truth {
  const { converter, bench } = spec
  const quantumN = converter.quantum * N_PER[converter.unit]
  // What came after the last whole output is in no sample.
  const perOutput = stepsPerOutput(converter.rateHz)
  const windows: Window[] = happening.logs.map((log, i) => ({
    from: log.from,
    to: log.to - ((log.to - log.from) % perOutput),
    startS: recording.segments[i]!.shiftS,
  }))
  const outputs: Output[] = faulted.map(f => f.output)
  let peakN = 0
  let peakS = 0
  for (const w of windows)
    for (let i = w.from; i < w.to; i++)
      if (happening.forceN[i]! > peakN) {
        peakN = happening.forceN[i]!
        peakS = w.startS + (i - w.from) * happening.stepS
      }
  const thresholdN = loadedFromN(peakN, converter.noiseN, quantumN)
  const gaps = faulted.flatMap((f, i) =>
    f.gaps.map(g => ({ from: g.from + windows[i]!.startS, to: g.to + windows[i]!.startS })),
  )
  const inGap = (t: number, lastT: number): boolean =>
    gaps.some(g => lastT > g.from - 2 / converter.rateHz && t < g.to + 2 / converter.rateHz)
  const within = (step: number): Window | undefined => windows.find(w => step >= w.from && step < w.to)
  const timeOf = (step: number, w: Window): number => w.startS + (step - w.from) * happening.stepS
  const { endTells } = spec
  const events = windows
    .flatMap(w => trueEvents(happening, w, converter, quantumN, thresholdN, endTells))
    .map(e => (inGap(e.t, e.lastT) ? { ...e, weight: 'ignore' as const } : e))
  const zeroSeen = windows.some(w => longestRestS(happening, w) > 0.5)
  const noLoadN = outputs[0]!.noLoadAtStartN
  const pulls = windows
    .flatMap(w => truePulls(happening, w, thresholdN, endTells))
    .map(p => {
      const last = events.findLast(e => e.t >= p.start && e.t <= p.end)
      // Where the empty cell is never seen, a fall to what the indicator calls no load may be taken for the end.
      const seemsGone = !zeroSeen && last !== undefined && last.afterN + noLoadN < thresholdN
      return seemsGone ? { ...p, orEnds: [...p.orEnds, 'break' as const] } : p
    })
  const clipped = outputs.reduce((n, o) => n + o.clipped.reduce((a, b) => a + b, 0), 0)
  return {
    file: name,
    family,
    seed,
    elements: bench.parts.reduce(
      (n, p) => n + (p.law === 'bundle' ? (p.counted ? p.elements : 0) : p.law === 'pull-out' ? 1 : 0),
      0,
    ),
    peakN,
    peakS,
    pulls,
    events,
    regrips: happening.regrips.flatMap(r => {
      const from = within(r.from)
      const rest = within(r.restFrom)
      const to = within(r.to)
      return from && rest && to
        ? [{ from: timeOf(r.from, from), restFrom: timeOf(r.restFrom, rest), to: timeOf(r.to, to) }]
        : []
    }),
    // A key pressed on a reading that stood at zero already leaves no trace to be found.
    retares: outputs.flatMap((o, i) =>
      o.zeros
        .filter(z => Math.abs(z.movedN) > Math.max(8 * converter.noiseN, 6 * quantumN))
        .map(z => ({ t: z.atS + windows[i]!.startS, readingAtNoLoadN: z.noLoadN })),
    ),
    zeroAtStartN: outputs[0]!.noLoadAtStartN,
    zeroSeen,
    gaps,
    spikes: faulted.flatMap((f, i) => f.spikes.map(s => ({ t: s.t + windows[i]!.startS }))),
    clipped,
    rateHz: converter.rateHz,
    noiseN: converter.noiseN,
    quantumN,
    samples: recording.timeS.length,
    ...verdictOf({
      ...{ happening, windows, pulls, events, gaps, peakS, thresholdN, zeroSeen, endTells },
      clipped: clipped > 0,
    }),
  }
}
