import { z } from 'zod'
import { checkSchema } from '../core/calibration/checkDocument.ts'
import { calibrationSchema } from '../core/calibration/document.ts'
import { pointsTableSchema } from '../core/calibration/pointsDocument.ts'
import { referencesSchema } from '../core/calibration/referencesDocument.ts'
import { quickScaleSchema, rigSchema } from '../core/calibration/rig.ts'
import { healthSchema } from '../core/health/document.ts'
import { adjustmentsSchema } from '../core/reading/adjustmentDocument.ts'
import { readingSchema } from '../core/reading/document.ts'
import { comparisonSchema } from '../core/statistics/document.ts'
import { planSchema } from '../core/statistics/plan/document.ts'
import { timeLineSchema } from '../core/statistics/timeLine/document.ts'
import { specimensTableSchema } from '../logs/specimens/document.ts'
import { studyDocumentSchema } from '../publish/package/studyDocument.ts'
import { syncSchema } from '../publish/sync/document.ts'

/** Every document and every file that a command takes, by the name of its schema file. */
const SCHEMAS = {
  reading: readingSchema,
  adjustments: adjustmentsSchema,
  calibration: calibrationSchema,
  check: checkSchema,
  comparison: comparisonSchema,
  health: healthSchema,
  plan: planSchema,
  points: pointsTableSchema,
  'quick-scale': quickScaleSchema,
  references: referencesSchema,
  rig: rigSchema,
  'specimens-table': specimensTableSchema,
  study: studyDocumentSchema,
  sync: syncSchema,
  'time-line': timeLineSchema,
} as const satisfies Record<string, z.ZodType>

/** JSON Schema (draft 2020-12) of each, as shipped in `schemas/`. */
export const jsonSchemas = (): Record<string, object> =>
  Object.fromEntries(
    Object.entries(SCHEMAS).map(([name, schema]) => [name, z.toJSONSchema(schema, { io: 'input' })]),
  )
