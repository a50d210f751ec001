import type { HealthStep } from './document.ts'

interface GuideStep {
  readonly name: string
  readonly how: string
  readonly lastsS: number
  /** What to do from which share of its time on, where that changes. */
  readonly now?: readonly { readonly fromShare: number; readonly say: string }[]
}

/** What to do at this moment of a step; `''` where it is one thing all the time. */
export function sayNow(step: HealthStep, goneS: number, lastsS: number): string {
  const { now = [] }: GuideStep = HEALTH_GUIDE[step]
  return now.findLast(({ fromShare }) => goneS >= fromShare * lastsS)?.say ?? ''
}

/**
 * What is done in each step of a check, in order; lasting so many seconds where it is recorded from the
 * line.
 */
export const HEALTH_GUIDE = {
  free: {
    name: 'Hanging free',
    how: 'Leave the rig alone for a minute, with nothing on it.',
    lastsS: 60,
  },
  mass: {
    name: 'A mass hung and left',
    how: 'Ten seconds empty; then hang a known mass, leave it for a minute; then take it off.',
    lastsS: 90,
    now: [
      { fromShare: 0, say: 'Leave it empty.' },
      { fromShare: 10 / 90, say: 'Now hang the mass and leave it.' },
      { fromShare: 73 / 90, say: 'Now take the mass off.' },
    ],
  },
  taps: {
    name: 'Three taps',
    how: 'Tap the free grip hard with a knuckle three times, three seconds apart.',
    lastsS: 15,
  },
  pull: {
    name: 'A slow pull by hand',
    how: 'Pull something stiff slowly to half of the capacity, and turn all the way back.',
    lastsS: 40,
  },
  ordinary: {
    name: 'Any other log',
    how: 'The rests of an ordinary pull tell most of it as well.',
    lastsS: 0,
  },
} as const satisfies Record<HealthStep, GuideStep>

/** The steps that are recorded on purpose. */
export const GUIDED_STEPS = ['free', 'mass', 'taps', 'pull'] as const
export type GuidedStep = (typeof GUIDED_STEPS)[number]

/** `free,mass`: the steps named, in their order; `null` where a word is none. */
export function stepsNamed(words: string): readonly GuidedStep[] | null {
  const named = words.split(',').map(word => word.trim())
  if (named.some(word => !GUIDED_STEPS.some(step => step === word))) return null
  return GUIDED_STEPS.filter(step => named.includes(step))
}
