import type { Outcome } from '../core/problem.ts'
import type { BlockOfSamples, Recording, RecordingHead } from '../core/recording.ts'
import type {
  DailyCheck,
  Edit,
  NewLongRecording,
  NewReading,
  NewRecording,
  Page,
  Photo,
  RecordingEntry,
  RecordingFilter,
  Rig,
  Specimen,
  SpecimenEdit,
  SpecimenFields,
  StoredCalibration,
  StoredNote,
  StoredReading,
  Study,
  StudyFields,
  Subject,
  Variant,
  VariantFields,
} from './types.ts'

/**
 * The one interface of the store. What a person can get wrong comes back as a problem; a store that cannot be
 * reached or trusted throws a `StoreFault` from any call. Whatever was acknowledged is on disk.
 */
export interface Store {
  /** For people: where it lies. */
  readonly place: string
  /** Folder of the store, for the journals of a capture and other files that belong to it. */
  readonly folder: string
  readonly studies: Studies
  readonly variants: Variants
  readonly specimens: Specimens
  readonly edits: Edits
  readonly recordings: Recordings
  readonly readings: Readings
  readonly rigs: Rigs
  readonly calibrations: Calibrations
  readonly checks: Checks
  readonly notes: Notes
  readonly photos: Photos
  readonly settings: Settings
  readonly care: Care
  close(): Promise<void>
}

export interface Studies {
  list(): Promise<readonly Study[]>
  get(id: string): Promise<Outcome<Study>>
  byName(name: string): Promise<Study | null>
  create(fields: Pick<StudyFields, 'name'> & Partial<StudyFields>): Promise<Outcome<Study>>
  /**
   * `basedOn`: the `updatedAt` that the caller saw; another change since then is told (`Stale`), nothing is
   * written.
   */
  update(id: string, fields: Partial<StudyFields>, basedOn?: string): Promise<Outcome<Study>>
  /** Only one without recordings: those are never deleted. Archive the others. */
  remove(id: string): Promise<Outcome<null>>
}

export interface Variants {
  list(studyId: string): Promise<readonly Variant[]>
  get(id: string): Promise<Outcome<Variant>>
  create(
    studyId: string,
    fields: Pick<VariantFields, 'name'> & Partial<VariantFields>,
  ): Promise<Outcome<Variant>>
  /**
   * `basedOn`: what the caller saw of it; where that is not so any more, the change is told as stale and
   * nothing is written.
   */
  update(
    id: string,
    fields: Partial<VariantFields & { place: number }>,
    basedOn?: Partial<VariantFields & { place: number }>,
  ): Promise<Outcome<Variant>>
  /** Its specimens stay, without a variant. */
  remove(id: string): Promise<Outcome<null>>
}

/**
 * What people change of the specimens of a study: a list, each entry of which can be taken back and done
 * again.
 */
export interface Edits {
  /** All steps or none, as one edit; `null` where nothing came to change. */
  apply(
    studyId: string,
    steps: readonly SpecimenEdit[],
    by: { readonly who: string; readonly what: string },
  ): Promise<Outcome<Edit | null>>
  /** Newest first, those taken back among them. */
  list(studyId: string): Promise<readonly Edit[]>
  /** Refused where a later edit changed the same. The same again changes nothing. */
  takeBack(id: string): Promise<Outcome<Edit>>
  doAgain(id: string): Promise<Outcome<Edit>>
}

export interface Specimens {
  /** Those that were removed are left out. */
  list(studyId: string): Promise<readonly Specimen[]>
  removed(studyId: string): Promise<readonly Specimen[]>
  get(id: string): Promise<Outcome<Specimen>>
  create(
    studyId: string,
    fields: Pick<SpecimenFields, 'name'> & Partial<SpecimenFields>,
  ): Promise<Outcome<Specimen>>
  /** `basedOn` as with studies. */
  update(id: string, fields: Partial<SpecimenFields>, basedOn?: string): Promise<Outcome<Specimen>>
  /** Only one without recordings. */
  remove(id: string): Promise<Outcome<null>>
  /** The specimen of these names; study, variant and specimen are made where they are not there yet. */
  named(names: { study: string; variant: string | null; specimen: string }): Promise<Outcome<Specimen>>
}

export interface Recordings {
  list(filter?: RecordingFilter): Promise<Page<RecordingEntry>>
  /** By id, or by its first letters where only one begins so. */
  get(id: string): Promise<Outcome<RecordingEntry>>
  /** The recordings of a log, oldest first. */
  bySha256(sha256: string): Promise<readonly RecordingEntry[]>
  /**
   * All of it or nothing, also when the program is killed. A log from a file that is there already (same
   * hash) is not saved again: `isNew` is false and `entry` is what is there.
   */
  save(added: NewRecording): Promise<Outcome<{ entry: RecordingEntry; isNew: boolean }>>
  /** As `save`, block by block: memory holds no more than a block of it, however long it is. */
  saveLong(added: NewLongRecording): Promise<Outcome<{ entry: RecordingEntry; isNew: boolean }>>
  /** Every sample bit for bit; a damaged chunk is a problem that names it. */
  load(id: string): Promise<Outcome<Recording>>
  /** The same chunk by chunk, for those that are too long to be held whole. */
  inChunks(id: string): Promise<Outcome<StoredInChunks>>
  /** The log's bytes as received. @throws StoreFault where they are damaged */
  log(id: string): AsyncIterable<Uint8Array>
  /** How the log was told to be read. */
  logOptions(id: string): Promise<Outcome<object>>
  /** To a specimen (last among its recordings unless a place is given) or, with `null`, to none. */
  place(id: string, specimenId: string | null, place?: number): Promise<Outcome<RecordingEntry>>
  setAside(id: string, why: string): Promise<Outcome<RecordingEntry>>
  takeBack(id: string): Promise<Outcome<RecordingEntry>>
}

/** A recording of the store, whose samples are fetched as they are asked for. */
export interface StoredInChunks {
  readonly head: RecordingHead
  readonly samples: number
  /**
   * One series (0 time, 1 force, then the channels) in its chunks, one after the other; what is damaged is
   * told in its place.
   */
  series(index: number): AsyncIterable<Outcome<Float64Array>>
  /**
   * All series of a stretch of samples together, the stretches in order. @throws StoreFault where one is
   * damaged
   */
  blocks(): AsyncIterable<BlockOfSamples>
}

export interface Readings {
  /**
   * `basedOn`: the newest that the caller saw, `null` for none; a newer one is told (`Stale`), nothing is
   * written.
   */
  save(reading: NewReading, basedOn?: string | null): Promise<Outcome<StoredReading>>
  get(id: string): Promise<Outcome<StoredReading>>
  /** The newest of each specimen of a study; specimens never read are left out. */
  latestOfStudy(studyId: string): Promise<readonly StoredReading[]>
  /** Newest first: of a specimen, or of a recording wherever it was read. */
  history(of: { specimenId: string } | { recordingId: string }): Promise<readonly StoredReading[]>
}

export interface Rigs {
  list(): Promise<readonly Rig[]>
  get(id: string): Promise<Outcome<Rig>>
  create(fields: { name: string; document: unknown }): Promise<Outcome<Rig>>
  /** `basedOn`: the `updatedAt` that the caller saw, as for a study. */
  update(id: string, fields: { name?: string; document?: unknown }, basedOn?: string): Promise<Outcome<Rig>>
}

export interface Calibrations {
  /** Newest first; of one rig where it is named. */
  list(rigId?: string): Promise<readonly StoredCalibration[]>
  get(id: string): Promise<Outcome<StoredCalibration>>
  save(fields: Omit<StoredCalibration, 'id'>): Promise<Outcome<StoredCalibration>>
}

export interface Checks {
  list(rigId?: string): Promise<readonly DailyCheck[]>
  save(fields: Omit<DailyCheck, 'id'>): Promise<Outcome<DailyCheck>>
}

export interface Notes {
  list(subject: Subject): Promise<readonly StoredNote[]>
  /** Made now, unless it was made elsewhere before. */
  add(subject: Subject, text: string, operator?: string, madeAt?: string): Promise<Outcome<StoredNote>>
  remove(id: string): Promise<Outcome<null>>
}

export interface Photos {
  list(subject: Subject): Promise<readonly Photo[]>
  /** JPEG, PNG or WebP, told by its bytes; place, time and camera are taken out before it is kept. */
  add(subject: Subject, name: string, bytes: Uint8Array, caption?: string): Promise<Outcome<Photo>>
  load(id: string): Promise<Outcome<{ photo: Photo; content: Uint8Array }>>
  remove(id: string): Promise<Outcome<null>>
}

export interface Settings {
  all(): Promise<Readonly<Record<string, unknown>>>
  get(name: string): Promise<unknown>
  /**
   * `null` takes it away. `basedOn`: the value that the caller saw, `null` for none; where it is another by
   * now, the change is told as stale and nothing is written.
   */
  set(name: string, value: unknown, basedOn?: unknown): Promise<Outcome<null>>
}

/** One thing found in a check of the whole store. */
export interface StoreFinding {
  readonly where: string
  readonly what: string
}

/** What became of an archive that was taken in. */
export interface ImportedArchive {
  readonly added: number
  /** Rows that were here already. */
  readonly known: number
  /** `before → after` of each name that was taken. */
  readonly renamed: readonly string[]
}

export interface Care {
  /** A copy of the whole store as of one moment, in one checksummed file. */
  backup(path: string): Promise<Outcome<{ path: string; bytes: number; sha256: string }>>
  /** All that is in the store in one file that needs no database to be read. */
  exportAll(path: string): Promise<Outcome<{ path: string; rows: number }>>
  /** The same file in pieces, as of the moment at which the first is asked for. */
  archive(): AsyncIterable<Uint8Array>
  /**
   * Adds all of such a file that is not here yet; what is here stays as it is. Proved before anything is
   * added. A study, rig, variant or specimen whose name is taken by another gets a number behind it.
   */
  importAll(path: string): Promise<Outcome<ImportedArchive>>
  /** Pages, references, and every recording: the hash of its log, every chunk of samples, their hash. */
  verify(onProgress?: (done: number, all: number) => void): Promise<{
    recordings: number
    samples: number
    findings: readonly StoreFinding[]
  }>
}
