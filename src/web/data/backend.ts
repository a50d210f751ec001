import type { Recording } from '../../core/recording.ts'
import type { LogOptions } from '../../logs/index.ts'
import type { FrameTimes } from '../../publish/clip/frameTimes.ts'
import type { OverlayAsked } from '../../publish/clip/overlayJob.ts'
import type { Sync } from '../../publish/sync/document.ts'
import type {
  Adjustment,
  DailyCheck,
  Edit,
  Edited,
  ImportedArchive,
  NewNote,
  NewSpecimen,
  NewStudy,
  NewVariant,
  Page,
  Photo,
  RecordingEntry,
  Rig,
  Specimen,
  SpecimenEdit,
  SpecimenPatch,
  StoredCalibration,
  StoredNote,
  StoredReading,
  Study,
  StudyPatch,
  Variant,
  VariantPatch,
} from '../../server/apiTypes.ts'

/** A study laid open: all of it but samples, notes and photos. */
export interface OpenStudy {
  readonly study: Study
  /** In their order. */
  readonly variants: readonly Variant[]
  readonly specimens: readonly Specimen[]
  /** The newest of each specimen. */
  readonly readings: readonly StoredReading[]
  /** In the order of their places on each specimen, those set aside among them. */
  readonly recordings: readonly RecordingEntry[]
}

export interface NewLog {
  readonly name: string
  readonly bytes: Uint8Array<ArrayBuffer>
  readonly options: LogOptions
  readonly specimenId: string | null
  readonly rigId: string | null
  /** Key of a calibration of the rig, where a person chose one. */
  readonly calibration?: string | null
  /** When it began, ISO 8601, where a person says what the log itself does not. */
  readonly startedAt?: string | null
}

/** Which recordings; all words of `search` must stand in the name, specimen, study, device or hash. */
export interface RecordingQuery {
  readonly studyId?: string
  readonly specimenId?: string
  /** Only those of no specimen. */
  readonly loose?: boolean
  readonly search?: string
  readonly withSetAside?: boolean
  readonly limit?: number
  readonly after?: string
}

export interface Subject {
  readonly kind: 'study' | 'variant' | 'specimen' | 'recording' | 'rig'
  readonly id: string
}

/** What was changed last is named in a patch; another change in between is then a `Conflict`, and nothing is written. */
export type Based<T> = T & { readonly basedOn?: string }

/**
 * Where studies are kept: the server's store, or the page's own storage. Every call rejects with a `Trouble` (what,
 * where, cure) when it cannot be done; whatever resolved is kept. Raw recordings are never changed.
 */
export interface Backend {
  readonly kind: 'server' | 'page'
  /** Version of the engine, and for people where the studies lie (`''`: in this browser). */
  about(): Promise<{ readonly version: string; readonly store: string }>
  readonly studies: {
    list(): Promise<readonly Study[]>
    open(id: string): Promise<OpenStudy>
    create(fields: NewStudy): Promise<Study>
    change(id: string, patch: Based<StudyPatch>): Promise<Study>
    /** Only one without recordings. */
    remove(id: string): Promise<void>
  }
  readonly variants: {
    create(studyId: string, fields: NewVariant): Promise<Variant>
    /** `basedOn`: the fields that are replaced, as they were seen. */
    change(id: string, patch: VariantPatch & { readonly basedOn?: VariantPatch }): Promise<Variant>
    /** Its specimens stay, without a variant. */
    remove(id: string): Promise<void>
  }
  readonly specimens: {
    create(studyId: string, fields: NewSpecimen): Promise<Specimen>
    /** One entry in the list of changes. `who`: who says so. */
    change(id: string, patch: Based<SpecimenPatch>, who?: string): Promise<Specimen>
    /** Only one without recordings. */
    remove(id: string): Promise<void>
  }
  /** What is changed of specimens, kept as a list that can be taken back. */
  readonly edits: {
    list(studyId: string): Promise<readonly Edit[]>
    /** Specimens that were removed and can be brought back. */
    removed(studyId: string): Promise<readonly Specimen[]>
    /** All steps or none, as one edit; what is another by it is read anew. */
    apply(
      studyId: string,
      steps: readonly SpecimenEdit[],
      by: { readonly who: string; readonly what: string },
    ): Promise<Edited>
    turn(studyId: string, id: string, way: 'back' | 'again'): Promise<Edited>
  }
  readonly recordings: {
    list(query: RecordingQuery): Promise<Page<RecordingEntry>>
    bySha256(sha256: string): Promise<RecordingEntry | null>
    /** A log that is there already is not kept twice. A new one on a specimen is read at once, with what was adjusted. */
    keep(log: NewLog): Promise<{ readonly entry: RecordingEntry; readonly isNew: boolean }>
    samples(id: string): Promise<Recording>
    log(id: string): Promise<Uint8Array<ArrayBuffer>>
    /** The specimen's others make room; last where no place is given. */
    place(id: string, specimenId: string | null, place?: number): Promise<RecordingEntry>
    setAside(id: string, why: string): Promise<RecordingEntry>
    takeBack(id: string): Promise<RecordingEntry>
  }
  readonly readings: {
    /** Newest first. */
    history(specimenId: string): Promise<readonly StoredReading[]>
    /**
     * Reads a specimen with these adjustments and keeps the reading. `basedOn` names the reading that was on the
     * screen; a newer one is a `Conflict`.
     */
    keep(
      specimenId: string,
      adjustments: readonly Adjustment[],
      basedOn?: string | null,
    ): Promise<StoredReading>
  }
  readonly rigs: {
    list(): Promise<readonly Rig[]>
    create(fields: { readonly name: string; readonly document: unknown }): Promise<Rig>
    change(id: string, patch: Based<{ readonly name?: string; readonly document?: unknown }>): Promise<Rig>
  }
  readonly calibrations: {
    list(rigId?: string): Promise<readonly StoredCalibration[]>
    keep(fields: Omit<StoredCalibration, 'id'>): Promise<StoredCalibration>
  }
  readonly checks: {
    list(rigId?: string): Promise<readonly DailyCheck[]>
    keep(fields: Omit<DailyCheck, 'id'>): Promise<DailyCheck>
  }
  readonly notes: {
    list(subject: Subject): Promise<readonly StoredNote[]>
    add(note: NewNote): Promise<StoredNote>
    remove(id: string): Promise<void>
  }
  readonly photos: {
    list(subject: Subject): Promise<readonly Photo[]>
    add(subject: Subject, name: string, bytes: Uint8Array<ArrayBuffer>, caption?: string): Promise<Photo>
    content(id: string): Promise<Blob>
    remove(id: string): Promise<void>
  }
  /** What a server makes better than a page can; `null` where there is none. */
  readonly maker: {
    /** Drawn by the server; printed by a browser of its computer where it must be. */
    pdf(studyId: string, asked: { readonly initials: boolean }, signal: AbortSignal): Promise<Blob>
    /** Streamed from the store; `licence` as on the command line. */
    dataPackage(
      studyId: string,
      asked: { readonly licence: string; readonly author: string; readonly initials: boolean },
      signal: AbortSignal,
    ): Promise<Blob>
    /** Whether the server has what QuickTime is made with. */
    hasQuickTime(): Promise<boolean>
    /** The overlay for a film as QuickTime with alpha, by the server's ffmpeg. `times`: the frames of the film. */
    quickTime(
      studyId: string,
      asked: OverlayAsked & {
        readonly sync: Sync
        readonly times: FrameTimes | null
        readonly initials: boolean
      },
      on: { readonly signal: AbortSignal; readonly onProgress: (done: number, all: number) => void },
    ): Promise<Blob>
  } | null
  /** All that is kept, as one file in the form of an archive of a store. */
  readonly whole: {
    save(): Promise<Blob>
    /**
     * When it was last saved (ISO 8601), `null` for never: where studies lie in this browser alone. Itself `null` where
     * they lie in a store.
     */
    readonly savedAt: (() => Promise<string | null>) | null
    /** Adds what is not here yet, proved first. */
    take(file: File): Promise<ImportedArchive>
  }
  readonly settings: {
    all(): Promise<Readonly<Record<string, unknown>>>
    /** `null` takes it away. `basedOn`: the value that was seen, `null` for none; left out, whatever is there. */
    set(name: string, value: unknown, basedOn?: unknown): Promise<void>
  }
}
