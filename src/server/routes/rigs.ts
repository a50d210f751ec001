import type { z } from 'zod'
import { checkSchema } from '../../core/calibration/checkDocument.ts'
import { calibrationSchema } from '../../core/calibration/document.ts'
import { rigSchema } from '../../core/calibration/rig.ts'
import { judgeOnRig } from '../../core/health/judgeOnRig.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import {
  changedRigSchema,
  newCalibrationSchema,
  newCheckSchema,
  newRigSchema,
  rigQuerySchema,
} from '../requests.ts'
import { noRecordings, rigRecords } from '../rigRecords.ts'
import { answer, given, ok, type Route, route } from '../route.ts'

export const rigRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/rigs',
    summary: 'All rigs',
    answers: 'Rig[]',
    run: async ({ bench }) => ok(await bench.store.rigs.list()),
  }),
  route({
    method: 'POST',
    path: '/api/rigs',
    summary: 'A new rig; its document is that of schemas/rig.json',
    answers: 'Rig',
    body: newRigSchema,
    async run({ bench, body: { name, document } }) {
      const checked = documentOf(rigSchema, document, 'rig.json')
      return checked.ok ? answer(await bench.store.rigs.create({ name, document })) : answer(checked)
    },
  }),
  route({
    method: 'PATCH',
    path: '/api/rigs/:id',
    summary: 'Changes what is given',
    answers: 'Rig',
    body: changedRigSchema,
    async run({ bench, params, body: { basedOn, ...patch } }) {
      const checked =
        patch.document === undefined ? fine(null) : documentOf(rigSchema, patch.document, 'rig.json')
      return checked.ok
        ? answer(await bench.store.rigs.update(params.id ?? '', given(patch), basedOn))
        : answer(checked)
    },
  }),
  route({
    method: 'GET',
    path: '/api/rigs/:id/health',
    beside: true,
    summary: 'What the rests of its latest recordings tell of its health: schemas/health.json',
    answers: 'Health',
    async run({ bench, params }) {
      const found = await rigRecords(bench.store, params.id ?? '')
      if (!found.ok) return answer(found, 404)
      const { name, rig, records } = found.value
      if (records.length === 0) return answer(wrong(noRecordings(name)), 404)
      return answer(judgeOnRig(records, { rig, massN: null, show: null }))
    },
  }),
  route({
    method: 'GET',
    path: '/api/calibrations',
    summary: 'Calibrations, the newest first',
    answers: 'StoredCalibration[]',
    query: rigQuerySchema,
    run: async ({ bench, query }) => ok(await bench.store.calibrations.list(query.rigId)),
  }),
  route({
    method: 'POST',
    path: '/api/calibrations',
    summary: 'Keeps a calibration; its document is that of schemas/calibration.json',
    answers: 'StoredCalibration',
    body: newCalibrationSchema,
    async run({ bench, body: { rigId, madeAt, document } }) {
      const checked = documentOf(calibrationSchema, document, 'calibration.json')
      return checked.ok
        ? answer(await bench.store.calibrations.save({ rigId, madeAt, document }))
        : answer(checked)
    },
  }),
  route({
    method: 'GET',
    path: '/api/checks',
    summary: 'Daily checks, the newest first',
    answers: 'DailyCheck[]',
    query: rigQuerySchema,
    run: async ({ bench, query }) => ok(await bench.store.checks.list(query.rigId)),
  }),
  route({
    method: 'POST',
    path: '/api/checks',
    summary: 'Keeps a daily check; its document is that of schemas/check.json',
    answers: 'DailyCheck',
    body: newCheckSchema,
    async run({ bench, body: { rigId, calibrationId, madeAt, document } }) {
      const checked = documentOf(checkSchema, document, 'check.json')
      return checked.ok
        ? answer(await bench.store.checks.save({ rigId, calibrationId, madeAt, document }))
        : answer(checked)
    },
  }),
]

/** Whether a document keeps to its schema: every fault, by its field. */
function documentOf(schema: z.ZodType, document: unknown, schemaFile: string): Outcome<null> {
  const parsed = schema.safeParse(document)
  if (parsed.success) return fine(null)
  return wrong(
    ...parsed.error.issues.slice(0, 20).map(issue => ({
      where: ['document', ...issue.path].join('.'),
      what: `${issue.message}.`,
      cure: `See schemas/${schemaFile}.`,
    })),
  )
}
