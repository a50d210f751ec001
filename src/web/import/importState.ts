import type { Rig } from '../../core/calibration/rig.ts'
import type { Problem } from '../../core/problem.ts'
import { DEFAULT_PATTERN } from '../../core/statistics/compare/namePattern.ts'
import { withoutEnding } from '../../core/withoutEnding.ts'
import type { LogOptions } from '../../logs/index.ts'
import type { Adjustment, RecordingEntry } from '../../server/apiTypes.ts'
import type { LogLook } from '../engine/types.ts'
import { rowOf } from './assign.ts'
import type { LogItem, StrangeItem, StudyChoice, TableItem } from './types.ts'

/** What lies on the table: logs and what came with them, on their way into a study. Nothing is kept yet. */
export interface ImportState {
  readonly nextId: number
  /** Files that nobody has looked at yet. */
  readonly incoming: readonly File[]
  readonly items: readonly LogItem[]
  readonly tables: readonly TableItem[]
  readonly strange: readonly StrangeItem[]
  readonly study: StudyChoice
  readonly rigId: string | null
  readonly pattern: string
}

export const NOTHING_DROPPED: ImportState = {
  nextId: 1,
  incoming: [],
  items: [],
  tables: [],
  strange: [],
  study: { id: null, name: '', question: '' },
  rigId: null,
  pattern: DEFAULT_PATTERN,
}

/** Files as they were told apart. */
export interface Sorted {
  readonly logs: readonly SortedLog[]
  readonly tables: readonly TableItem[]
  readonly strange: readonly StrangeItem[]
  /** Of a package: what a new study is called. */
  readonly study?: Omit<StudyChoice, 'id'>
}

export interface SortedLog {
  readonly file: File
  readonly options?: LogOptions
  readonly adjustments?: readonly Adjustment[]
  readonly rig?: Rig | null
  readonly calibration?: string | null
}

export type ImportAction =
  | { readonly type: 'dropped'; readonly files: readonly File[]; readonly studyId: string | null }
  | { readonly type: 'sorted'; readonly of: readonly File[]; readonly found: Sorted }
  | {
      readonly type: 'looked'
      readonly id: number
      /** Those that it was looked at with. */
      readonly options: LogOptions
      readonly look: LogLook | null
      readonly known: RecordingEntry | null
      readonly problems: readonly Problem[]
    }
  | { readonly type: 'corrected'; readonly ids: readonly number[]; readonly options: LogOptions }
  | { readonly type: 'byHand'; readonly ids: readonly number[]; readonly byHand: LogItem['byHand'] }
  | { readonly type: 'leftOut'; readonly id: number; readonly leftOut: boolean }
  | { readonly type: 'byFileTime'; readonly ids: readonly number[]; readonly byFileTime: boolean }
  /** Its file holds several tables: each is a specimen of its own. */
  | { readonly type: 'parted'; readonly id: number; readonly parts: readonly PartFile[] }
  /** The tables of a file are one specimen again. */
  | { readonly type: 'rejoined'; readonly file: File }
  | { readonly type: 'swapped'; readonly a: number; readonly b: number }
  | { readonly type: 'study'; readonly study: StudyChoice }
  | { readonly type: 'rig'; readonly rigId: string | null }
  | { readonly type: 'pattern'; readonly pattern: string }
  | {
      readonly type: 'keeping'
      readonly id: number
      readonly kept: LogItem['kept']
      readonly problems: readonly Problem[]
    }
  | { readonly type: 'cleared' }
  /** The table as it was left by a page before this one. */
  | { readonly type: 'restored'; readonly state: ImportState }

const collator = new Intl.Collator('en', { numeric: true, sensitivity: 'base' })

/** Numbers in their own order, and a name before the same with more to it: `paste-2`, `paste-2-log2`, `paste-10`. */
const compareNames = (a: File, b: File): number =>
  collator.compare(withoutEnding(a.name), withoutEnding(b.name)) || collator.compare(a.name, b.name)

export function importState(state: ImportState, action: ImportAction): ImportState {
  switch (action.type) {
    case 'dropped': {
      // The study that was open when the first files came; what the person chose since stays.
      const untouched = state.items.length === 0 && state.study.id === null && state.study.name === ''
      const study =
        untouched && action.studyId !== null ? { ...state.study, id: action.studyId } : state.study
      return { ...state, study, incoming: [...state.incoming, ...action.files] }
    }
    case 'sorted': {
      const { logs, tables, strange } = action.found
      const known = new Set(state.items.map(({ file, cutFrom }) => fingerprint(cutFrom ?? file)))
      const rows = tables.flatMap(table => table.rows)
      const line = (file: File) => rowOf(rows, file.name)?.line ?? Number.POSITIVE_INFINITY
      const fresh = logs
        .filter(({ file }) => !known.has(fingerprint(file)))
        .sort((a, b) => compareNames(a.file, b.file))
        // A table that came along says the order, above all that of the logs of one specimen.
        .sort((a, b) => (line(a.file) === line(b.file) ? 0 : line(a.file) - line(b.file)))
      const isUnnamed = state.study.id === null && state.study.name === ''
      return {
        ...state,
        study: isUnnamed ? { ...state.study, ...action.found.study } : state.study,
        incoming: state.incoming.filter(file => !action.of.includes(file)),
        nextId: state.nextId + fresh.length,
        items: [...state.items, ...fresh.map((log, i) => freshItem(state.nextId + i, log))],
        tables: [...state.tables.filter(old => !tables.some(({ name }) => name === old.name)), ...tables],
        strange: [...state.strange.filter(old => !strange.some(({ name }) => name === old.name)), ...strange],
      }
    }
    case 'looked': {
      const { look, known, problems } = action
      return changed(state, [action.id], item =>
        item.options === action.options
          ? { ...item, look: look ?? item.look, stale: false, known, problems }
          : item,
      )
    }
    case 'corrected':
      return changed(state, action.ids, item => ({ ...item, options: action.options, stale: true }))
    case 'byHand':
      return changed(state, action.ids, item => ({ ...item, byHand: { ...item.byHand, ...action.byHand } }))
    case 'leftOut':
      return changed(state, [action.id], item => ({ ...item, leftOut: action.leftOut }))
    case 'byFileTime':
      return changed(state, action.ids, item => ({ ...item, byFileTime: action.byFileTime }))
    case 'parted': {
      const whole = state.items.find(({ id }) => id === action.id)
      if (!whole) return state
      // Their text is UTF-8, whatever the encoding of the file was.
      const { encoding: _, ...options } = whole.options
      const parts = action.parts.map(
        ({ file, title }, i): LogItem => ({
          ...freshItem(state.nextId + i, { file, options, rig: whole.rig, calibration: whole.calibration }),
          byHand: title === null ? {} : { ...whole.byHand, specimen: title },
          cutFrom: whole.file,
        }),
      )
      return {
        ...state,
        nextId: state.nextId + parts.length,
        items: state.items.flatMap(item => (item === whole ? parts : [item])),
      }
    }
    case 'rejoined': {
      const first = state.items.find(item => item.cutFrom === action.file)
      if (!first || state.items.some(item => item.cutFrom === action.file && item.kept !== 'no')) return state
      const whole = freshItem(state.nextId, {
        file: action.file,
        options: first.options,
        rig: first.rig,
        calibration: first.calibration,
      })
      return {
        ...state,
        nextId: state.nextId + 1,
        items: state.items.flatMap(item =>
          item === first ? [whole] : item.cutFrom === action.file ? [] : [item],
        ),
      }
    }
    case 'swapped': {
      const [a, b] = [action.a, action.b].map(id => state.items.find(item => item.id === id))
      if (!a || !b) return state
      return { ...state, items: state.items.map(item => (item === a ? b : item === b ? a : item)) }
    }
    case 'study':
      return { ...state, study: action.study }
    case 'rig':
      return { ...state, rigId: action.rigId }
    case 'pattern':
      return { ...state, pattern: action.pattern }
    case 'keeping':
      return changed(state, [action.id], item => ({ ...item, kept: action.kept, problems: action.problems }))
    case 'restored': {
      // What was dropped in the moment before lies beside it.
      const { nextId, items } = action.state
      const fresh = state.items.map((item, i) => ({ ...item, id: nextId + i }))
      return {
        ...action.state,
        incoming: state.incoming,
        nextId: nextId + fresh.length,
        items: [...items, ...fresh],
        strange: state.strange,
      }
    }
    case 'cleared':
      return { ...NOTHING_DROPPED, nextId: state.nextId }
  }
}

/** A table of a file as a file of its own. */
export interface PartFile {
  readonly file: File
  readonly title: string | null
}

const freshItem = (
  id: number,
  { file, options = {}, adjustments = [], rig = null, calibration = null }: SortedLog,
): LogItem => ({
  id,
  file,
  options,
  look: null,
  stale: true,
  problems: [],
  known: null,
  byHand: {},
  adjustments,
  rig,
  calibration,
  leftOut: false,
  byFileTime: false,
  kept: 'no',
})

/** The same file chosen twice is on the table once. */
const fingerprint = ({ name, size, lastModified }: File): string => `${name}\n${size}\n${lastModified}`

const changed = (
  state: ImportState,
  ids: readonly number[],
  change: (item: LogItem) => LogItem,
): ImportState => ({
  ...state,
  items: state.items.map(item => (ids.includes(item.id) ? change(item) : item)),
})
