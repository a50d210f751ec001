import { type ImportState, NOTHING_DROPPED } from '../importState.ts'
import type { LogItem } from '../types.ts'

/** A log that lies on the table, but for its file, and for what is found again by looking at it. */
type KeptItem = Pick<LogItem, 'id' | 'options' | 'byHand' | 'adjustments' | 'rig' | 'leftOut'> &
  Partial<Pick<LogItem, 'calibration' | 'byFileTime'>>

/** What lies on the table and what was said of it, but for the files. */
export interface KeptTable extends Pick<ImportState, 'nextId' | 'tables' | 'study' | 'rigId' | 'pattern'> {
  readonly version: 1
  readonly items: readonly KeptItem[]
}

/** What is still to be taken in, to be set aside; `null` where there is nothing. */
export function tableOf({ items, nextId, tables, study, rigId, pattern }: ImportState): KeptTable | null {
  const waiting = items.filter(({ kept }) => kept !== 'yes')
  if (waiting.length === 0) return null
  return {
    version: 1,
    nextId,
    tables,
    study,
    rigId,
    pattern,
    items: waiting.map(({ id, options, byHand, adjustments, rig, calibration, leftOut, byFileTime }) => ({
      id,
      options,
      byHand,
      adjustments,
      rig,
      calibration,
      leftOut,
      byFileTime,
    })),
  }
}

/** The table as it was left. A log whose file was not set aside in time is missing. */
export function stateFrom({ items, ...table }: KeptTable, files: ReadonlyMap<number, File>): ImportState {
  return {
    ...NOTHING_DROPPED,
    nextId: table.nextId,
    tables: table.tables,
    study: table.study,
    rigId: table.rigId,
    pattern: table.pattern,
    items: items.flatMap((item): LogItem[] => {
      const file = files.get(item.id)
      return file
        ? [
            {
              calibration: null,
              byFileTime: false,
              ...item,
              file,
              look: null,
              stale: true,
              problems: [],
              known: null,
              kept: 'no',
            },
          ]
        : []
    }),
  }
}
