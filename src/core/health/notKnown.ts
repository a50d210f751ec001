import type { Figures } from './figures.ts'
import type { Seen } from './look.ts'
import type { HealthOptions, HealthRecord } from './types.ts'

/** What the steps that were left out, or that do not show what was to be done in them, would have told. */
export function notKnown(
  seen: readonly Seen[],
  tooShort: readonly HealthRecord[],
  figures: Figures,
  { askedRateHz }: HealthOptions,
): string[] {
  const of = (step: Seen['step']): readonly Seen[] => seen.filter(r => r.step === step)
  const name = ({ given }: Seen): string => given.name
  const ordinary = of('ordinary').length > 0
  const lacks = {
    free: 'drift and warm-up',
    mass: 'sign, creep, and whether doubled readings are told from another channel',
    taps: 'how many readings the converter takes to settle, unless its noise shows it',
    pull: `stiffness and backlash${figures.hand?.loadingNPerS == null ? ', and what lost or late readings cost' : ''}`,
  }
  const [free, mass, taps, pull] = [of('free'), of('mass'), of('taps'), of('pull')]
  const hand = figures.hand
  return [
    ...tooShort.map(
      ({ recording }) => `${recording.name} has too few readings (${recording.forceN.length}): left out.`,
    ),
    ...(free.length > 0 || ordinary ? [] : [`Without a minute hanging free: ${lacks.free}.`]),
    ...free
      .filter(r => r.hung !== null)
      .map(
        r =>
          `${name(r)} shows a load put on or taken off, or a zero that jumped, where the rig was to hang free: only what lies before and after it was judged.`,
      ),
    ...(mass.length > 0
      ? mass
          .filter(r => r.hung?.changeN == null)
          .map(r => `${name(r)} does not show a mass being hung on the empty rig: ${lacks.mass}.`)
      : [`Without a mass left hanging: ${lacks.mass}.`]),
    ...(taps.length > 0
      ? figures.settled === null
        ? [`${name(taps[0]!)} does not show two taps or more: ${lacks.taps}.`]
        : []
      : [`Without three taps: ${lacks.taps}.`]),
    ...(pull.length === 0
      ? [`Without a slow pull by hand: ${lacks.pull}.`]
      : hand?.loadingNPerS == null
        ? [`${name(pull[0]!)} does not show a pull: ${lacks.pull}.`]
        : hand.backlashMm === null && !hasTravel(pull[0]!)
          ? ['Without the travel beside the force of the pull by hand: stiffness and backlash.']
          : []),
    ...seen
      .filter(r => r.isUnchanging && r.stuck.length === 0)
      .map(
        r =>
          `${name(r)} shows one and the same reading throughout: either its display is too coarse for noise, hum and drift, or the value stands still.`,
      ),
    ...(figures.rateHz === null ? ['Without times: rate, jitter and lost readings.'] : []),
    ...(figures.rateHz !== null && askedRateHz === undefined
      ? ['Without the rate that is asked of the converter: whether this one is as meant.']
      : []),
  ]
}

const hasTravel = ({ given }: Seen): boolean =>
  given.channels.some(c => (c.kind === 'travel' || c.kind === 'extension') && c.unit === 'mm')
