import type { Tables } from '../schema/tables.ts'

export interface ArchivedTable {
  readonly name: keyof Tables
  /** Columns that tell its rows apart, in order. */
  readonly key: readonly string[]
  /** Rows held in memory at a time: few where they hold samples, logs or pictures. */
  readonly atOnce: number
}

/**
 * Every table that holds something of the user's, each after those that its rows name. A test finds one left
 * out.
 */
export const ARCHIVED_TABLES: readonly ArchivedTable[] = [
  { name: 'setting', key: ['name'], atOnce: 200 },
  { name: 'study', key: ['id'], atOnce: 200 },
  { name: 'variant', key: ['id'], atOnce: 200 },
  { name: 'specimen', key: ['id'], atOnce: 200 },
  { name: 'rig', key: ['id'], atOnce: 200 },
  { name: 'calibration', key: ['id'], atOnce: 200 },
  { name: 'daily_check', key: ['id'], atOnce: 200 },
  { name: 'recording', key: ['id'], atOnce: 100 },
  { name: 'recording_log', key: ['recording_id', 'part'], atOnce: 4 },
  { name: 'recording_samples', key: ['recording_id', 'series', 'chunk'], atOnce: 16 },
  { name: 'placement', key: ['recording_id'], atOnce: 200 },
  { name: 'edit', key: ['id'], atOnce: 200 },
  { name: 'reading', key: ['id'], atOnce: 50 },
  { name: 'reading_recording', key: ['reading_id', 'place'], atOnce: 200 },
  { name: 'note', key: ['id'], atOnce: 200 },
  { name: 'photo', key: ['id'], atOnce: 2 },
]
