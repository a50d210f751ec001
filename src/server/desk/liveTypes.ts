import type { Source } from '../../capture/source.ts'
import type { PortInfo } from '../../capture/sources/portTypes.ts'
import type { CaptureState } from '../../capture/state.ts'
import type { Captured, RecordingPlan } from '../../capture/types.ts'
import type { Problem } from '../../core/problem.ts'
import type { Reading } from '../../core/reading/document.ts'

/** What the app shows of the rig that a line belongs to. */
export interface LineRigFacts {
  readonly id: string | null
  readonly name: string
  readonly capacityN: number | null
  readonly strokeMm: number | null
  readonly mmPerTurn: number | null
  /** Of a drive that runs at one speed. */
  readonly mmPerSecond: number | null
}

/** Serial ports of this computer. */
export interface PortList {
  readonly ports: readonly PortInfo[]
  /** Why the system does not tell which there are. */
  readonly problems: readonly Problem[]
}

/** The line that is open, for the app. */
export interface LineState {
  readonly open: { readonly kind: Source['kind']; readonly name: string } | null
  readonly rig: LineRigFacts | null
  readonly state: CaptureState | null
  readonly plan: RecordingPlan | null
  /** Of the recording that runs. */
  readonly recordingId: string | null
}

/** A recording that has ended. */
export interface EndedRecording {
  readonly recordingId: string
  readonly specimenId: string | null
  readonly how: Captured['how']
  /** Of its specimen, with all its recordings, as it is kept; of this recording alone where it is of none, does not count or is not in the store. */
  readonly reading: Reading | null
  readonly keptIn: KeptIn
  /** Why there is no reading, or why it is not in the store. */
  readonly problems: readonly Problem[]
}

/** Where a recording that has ended is: in the store; else whole in its journal on a disk; else in memory, and not kept yet. */
export type KeptIn = 'store' | 'journal' | 'memory'

/** A recording that has ended and is not in the store. */
export interface Unsaved {
  readonly recordingId: string
  readonly startedAt: string
  readonly specimen: string | null
  readonly samples: number
  readonly keptIn: KeptIn
  /** Bytes that are in memory alone. */
  readonly heldBytes: number
  /** Its journal, or where that is to be. */
  readonly path: string
  readonly problem: Problem
}

/** What waits to be taken into the store. */
export interface Waiting {
  readonly unsaved: readonly Unsaved[]
  /** Journals that another running program writes. */
  readonly inUse: readonly string[]
}

/** What became of a recording by a command about a specimen. */
export interface SpecimenCommand {
  /** The recording that was set aside or kept; `null`: there was none. */
  readonly recordingId: string | null
  readonly specimenId: string | null
  readonly state: CaptureState
}

/** What a recording that still runs reads as. */
export interface LiveReading {
  /** Pulls that the capture had counted by then. */
  readonly pulls: number
  /** Up to when, on the axis of the live stream. */
  readonly upToS: number
  /** To be added to the times in `reading`, to have them on that axis. */
  readonly toLiveS: number
  readonly reading: Reading | null
  /** Why there is none. */
  readonly problems: readonly Problem[]
}
