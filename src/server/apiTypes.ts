import type { z } from 'zod'
import type {
  comparisonQuerySchema,
  lineSchema,
  logQuerySchema,
  newNoteSchema,
  newPhotoQuerySchema,
  newRecordingQuerySchema,
  newSpecimenSchema,
  newStudySchema,
  newVariantSchema,
  planSchema,
  recordingQuerySchema,
  specimenPatchSchema,
  studyPatchSchema,
  variantPatchSchema,
} from './requests.ts'

/** The types that the app and the server share: what may be sent, then what is answered. Nothing here runs. */

export type StudyPatch = z.infer<typeof studyPatchSchema>
export type NewStudy = z.infer<typeof newStudySchema>
export type VariantPatch = z.infer<typeof variantPatchSchema>
export type NewVariant = z.infer<typeof newVariantSchema>
export type SpecimenPatch = z.infer<typeof specimenPatchSchema>
export type NewSpecimen = z.infer<typeof newSpecimenSchema>
export type RecordingQuery = z.input<typeof recordingQuerySchema>
export type LogQuery = z.input<typeof logQuerySchema>
export type NewRecordingQuery = z.input<typeof newRecordingQuerySchema>
export type ComparisonQuery = z.input<typeof comparisonQuerySchema>
export type NewNote = z.input<typeof newNoteSchema>
export type NewPhotoQuery = z.input<typeof newPhotoQuerySchema>
export type Line = z.input<typeof lineSchema>
export type Plan = z.input<typeof planSchema>

export type {
  Alarm,
  CaptureState,
  LiveEvent,
  LiveFigures,
  LiveNote,
  RecordingPlan,
  Snapshot,
  TurnsTapped,
  ZeroTaken,
} from '../capture/index.ts'
export type { Problem } from '../core/problem.ts'
export type { Adjustment } from '../core/reading/adjustmentDocument.ts'
export type { Reading } from '../core/reading/document.ts'
export type { Comparison } from '../core/statistics/document.ts'
export type { ImportedArchive } from '../store/store.ts'
export type {
  DailyCheck,
  Edit,
  Page,
  Photo,
  RecordingEntry,
  Rig,
  Specimen,
  SpecimenEdit,
  StoredCalibration,
  StoredNote,
  StoredReading,
  Study,
  Variant,
} from '../store/types.ts'
export type { ViewerMessage } from './desk/liveMessages.ts'
export type {
  EndedRecording,
  LineRigFacts,
  LineState,
  LiveReading,
  PortList,
  SpecimenCommand,
  Unsaved,
  Waiting,
} from './desk/liveTypes.ts'
export type { Edited } from './editSpecimens.ts'
export type { LogPreview } from './routes/logs.ts'
export type { Curve } from './routes/recordings.ts'
