import type { BenchSpec } from './bench.ts'
import type { ConverterSpec } from './converter.ts'
import type { FaultSpec } from './faults.ts'
import type { RigTroubles } from './troubles.ts'

/** Everything that makes one pretend pull. */
export interface PullSpec {
  readonly bench: BenchSpec
  readonly converter: ConverterSpec
  readonly faults: FaultSpec
  /** Whether the travel of the grips is logged beside the force. */
  readonly logsTravel: boolean
  /** Whether a break has to be found though the log ends in the fall, or a few readings after it. */
  readonly endTells: boolean
  /** What lastingly ails the rig; none where left out. */
  readonly troubles?: RigTroubles
}
