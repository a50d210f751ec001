import type { Recording } from '../../core/recording.ts'
import { type Character, characterSpec, type Trouble } from './characters.ts'
import { pullFrom } from './makePull.ts'
import { seeded, wordOf } from './random.ts'
import type { Truth } from './truth.ts'

/** A specimen of the invented study *Carrier-bag handles*: its logs, its row of the specimens table, and the truth. */
export interface DemoSpecimen {
  readonly specimen: string
  readonly logs: readonly { readonly file: string; readonly recording: Recording }[]
  readonly row: DemoRow
  readonly truth: Truth
}

/** One row of the specimens table, under the table's own column names. */
interface DemoRow {
  readonly specimen: string
  readonly variant: Character
  readonly elements: number | null
  readonly width_mm: number
  readonly mode: string
  readonly note: string
}

interface Plan {
  readonly trouble?: Trouble
  readonly note?: string
}

const plans: Readonly<Record<Character, readonly Plan[]>> = {
  'hot-melt': [
    {},
    { trouble: 'zeroed-under-load', note: 'zeroed with the handle already taut' },
    {},
    { trouble: 'slip', note: 'the lower grip slipped once' },
    { trouble: 'tore-bag', note: 'the bag tore above the patch; all eight dots held' },
  ],
  'wheat-paste': [{}, {}, { trouble: 'glitch', note: 'one wild reading' }, {}, {}],
  stitching: [
    {},
    {},
    { trouble: 'two-logs', note: 'out of stroke; gripped again and pulled on in a second log' },
    {},
    { trouble: 'unrecorded', note: 'the hem tape let go after the log had been ended' },
  ],
}

const modes: Readonly<Record<Character, string>> = {
  'hot-melt': 'dots let go',
  'wheat-paste': 'paste peeled',
  stitching: 'stitches broke, then the hem tape',
}

const elements: Readonly<Record<Character, number | null>> = {
  'hot-melt': 8,
  'wheat-paste': null,
  stitching: 14,
}

/** Fifteen specimens, five of each variant, with the troubles spread over them. */
export function demoStudy(seed: number): DemoSpecimen[] {
  return (Object.keys(plans) as Character[]).flatMap(variant =>
    plans[variant].map(({ trouble, note = '' }, i) => {
      const specimen = `${variant}-${i + 1}`
      const random = seeded((seed ^ wordOf(specimen)) >>> 0)
      const pull = pullFrom(characterSpec(random, variant, trouble ?? null), {
        name: `${specimen}.csv`,
        family: variant,
        seed: (seed + 101 * i) >>> 0,
      })
      return {
        specimen,
        logs: pull.logs.map(recording => ({ file: recording.name, recording })),
        row: {
          specimen,
          variant,
          elements: elements[variant],
          width_mm: 90,
          mode: trouble === 'tore-bag' ? 'bag tore' : modes[variant],
          note,
        },
        truth: pull.truth,
      }
    }),
  )
}
