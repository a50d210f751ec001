import type { Recording } from '../recording.ts'
import type { Evidence, HealthCode, HealthStep } from './document.ts'

/** One record of a check. `ordinary` is any recording that was not made for it: its rests are judged. */
export interface HealthRecord {
  readonly recording: Recording
  readonly step: HealthStep
}

export interface HealthOptions {
  /** Readings a second that the converter is set to. */
  readonly askedRateHz?: number | undefined
  /** The hung mass as a force. Where it is not known the reading itself is taken. */
  readonly massN?: number | undefined
  /** Capacity of the cell. */
  readonly capacityN?: number | undefined
  /** Rated output of the cell at its capacity, in mV/V. */
  readonly ratedOutputMvPerV?: number | undefined
  /** Noise and drift that do not matter, in N; from these the limits follow where given. */
  readonly withinN?: number | undefined
  /** Turns a force of the records, in N, into words. */
  readonly forceText: (forceN: number) => string
  /** The unit of those words, and newton in one of it. */
  readonly unit: string
  readonly perUnit: number
}

/** Where a stretch without a change of load lies in a record. */
export interface Stretch {
  /** Index of the record. */
  readonly record: number
  readonly from: number
  readonly to: number
  readonly load: 'none' | 'mass'
}

/** A record with what the first detectors found in it. */
export interface Looked {
  /** As it was given: one reading for every line. */
  readonly given: Recording
  /** Fresh readings only, glitches left in: the given one, unless every reading was sent several times. */
  readonly recording: Recording
  readonly step: HealthStep
  /** Force with the glitches replaced by what their neighbours say. */
  readonly cleanN: Float64Array
  /** Place of each reading on an even clock, in whole periods from the start of its segment. */
  readonly place: Float64Array
  readonly periodS: number
  /** Of the given recording. */
  readonly glitches: readonly Glitch[]
}

export interface Glitch {
  readonly index: number
  /** The wild reading, and what its neighbours say. */
  readonly gotN: number
  readonly levelN: number
  /** Half of what the neighbours before and after differ by. */
  readonly levelDoubtN: number
}

/** What a detector hands on: sizes in SI or in per cent, no words yet. */
export interface Found {
  readonly code: HealthCode
  readonly size: number
  readonly unit: string
  readonly costN: number | null
  readonly text: string
  readonly cure: string
  readonly evidence: readonly Evidence[]
}
