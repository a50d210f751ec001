import type { Rig } from '../../core/calibration/rig.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Adjustment } from '../../core/reading/adjustment.ts'
import type { Reading } from '../../core/reading/document.ts'
import type { Recording } from '../../core/recording.ts'
import type { LogOptions } from '../../logs/index.ts'
import { readFiles } from '../readFiles.ts'
import type { NameFacts } from './specimenFacts.ts'

export interface OpenedReading {
  readonly reading: Reading
  readonly facts: NameFacts
  /** Kept only where the curve is wanted. */
  readonly recording: Recording | null
  /** Paths of its logs in the order in which they were joined; none for a reading document. */
  readonly logs: readonly string[]
}

/** The logs of one specimen, and what is known of it. Plain data: it goes to another thread. */
export interface Job {
  readonly facts: NameFacts
  readonly logs: string[]
  /** To replay on the reading. */
  readonly adjustments?: readonly Adjustment[]
}

/** How all logs are read. Plain data. */
export interface JobOptions {
  readonly log: LogOptions
  readonly rig: Rig | null
  readonly keepRecordings: boolean
}

/** Opens and reads the logs of one specimen. */
export async function readJob(
  { facts, logs, adjustments = [] }: Job,
  { log, rig, keepRecordings }: JobOptions,
): Promise<Outcome<OpenedReading>> {
  const row = facts.table?.row
  const read = await readFiles(logs, {
    log,
    rig,
    adjustments,
    facts: {
      name: facts.name,
      variant: facts.group,
      elements: row?.elements ?? null,
      widthMm: row?.widthMm ?? null,
      thicknessMm: row?.thicknessMm ?? null,
      lengthMm: row?.lengthMm ?? null,
      mode: facts.mode ?? null,
      note: row?.note ?? null,
    },
  })
  if (!read.ok) return read
  const { reading, recording } = read.value
  return fine({ reading, facts, recording: keepRecordings ? recording : null, logs })
}
