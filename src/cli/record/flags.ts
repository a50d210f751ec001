import {
  pretendSource,
  type RecordingPlan,
  type Source,
  serialSource,
  streamSource,
  tcpSource,
} from '../../capture/index.ts'
import type { PretendKind } from '../../capture/pretend/index.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import type { LogFlags } from '../logOptions.ts'

export interface RecordFlags extends LogFlags {
  readonly port?: string
  readonly baud?: number
  readonly tcp?: { readonly host: string; readonly port: number }
  readonly stdin?: true
  readonly pretend?: PretendKind
  readonly seed: number
  readonly speed: number
  readonly study?: string
  readonly variant?: string
  readonly specimen?: string
  readonly operator?: string
  readonly elements?: number
  readonly arm?: true
  readonly startAt?: number
  readonly keepBefore: number
  readonly pulls: number
  readonly finishAfter?: number
  readonly capacity?: number
  readonly rig?: string
  readonly askRate?: number
  readonly show?: ForceUnit
  readonly beep?: true
  readonly say?: true
  readonly spare?: string
  readonly store?: string
  readonly json?: true
}

/** The one source that the flags name. */
export function sourceOf(flags: RecordFlags): Outcome<Source> {
  const named: Source[] = []
  if (flags.port !== undefined)
    named.push(serialSource(flags.port, flags.baud === undefined ? {} : { baud: flags.baud }))
  if (flags.tcp !== undefined) named.push(tcpSource(flags.tcp.host, flags.tcp.port))
  if (flags.stdin) named.push(streamSource(process.stdin))
  if (flags.pretend !== undefined) {
    named.push(pretendSource({ kind: flags.pretend, seed: flags.seed, speed: flags.speed }))
  }
  const [source] = named
  if (source && named.length === 1) return fine(source)
  return wrong({
    where: 'record',
    what: named.length === 0 ? 'no source is named.' : 'more than one source is named.',
    cure: 'Name one of --port, --tcp, --stdin and --pretend. `tenterhook ports` lists the serial ports.',
  })
}

/** Study of specimens that are recorded without one. */
const NO_STUDY = 'Unsorted'

export const planOf = (flags: RecordFlags): RecordingPlan => ({
  about: {
    study: flags.study ?? (flags.specimen === undefined ? null : NO_STUDY),
    variant: flags.variant ?? null,
    specimen: flags.specimen ?? null,
    operator: flags.operator ?? null,
  },
  specimenId: null,
  startAtN: flags.startAt ?? null,
  keepBeforeS: flags.keepBefore,
  pullsExpected: flags.pulls,
  finishAfterRestS: flags.finishAfter ?? null,
  elements: flags.elements ?? null,
})
