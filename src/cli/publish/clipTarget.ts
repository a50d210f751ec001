import type { ShownUnit } from '../../core/units/force.ts'
import type { SyncTarget } from '../../publish/sync/syncClip.ts'

/** A specimen that a clip may show. */
export interface ClipTarget extends SyncTarget {
  readonly name: string
  /** In which its forces are told. */
  readonly unit: ShownUnit
}

export interface ClipTargets {
  readonly targets: readonly ClipTarget[]
  /** Each was asked for by name; else they are all of a study, and a clip may show a few of them. */
  readonly named: boolean
}
