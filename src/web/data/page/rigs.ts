import type { z } from 'zod'
import { checkSchema } from '../../../core/calibration/checkDocument.ts'
import { calibrationSchema } from '../../../core/calibration/document.ts'
import { rigSchema } from '../../../core/calibration/rig.ts'
import type { Backend } from '../backend.ts'
import { Trouble } from '../trouble.ts'
import { found, laterThan, newId, nowIso, pageDb, writing } from './db.ts'
import { given, nameFrom, refuseStale, refuseTaken } from './rules.ts'

/** Rigs with their calibrations and checks. Their documents keep to the same schemas as on the server. */

export const pageRigs: Backend['rigs'] = {
  async list() {
    const rigs = await (await pageDb()).getAll('rigs')
    return rigs.sort((a, b) => (a.name < b.name ? -1 : 1))
  },
  create: fields =>
    writing(['rigs'], async change => {
      const rigs = change.objectStore('rigs')
      refuseFaults(rigSchema, fields.document)
      const name = nameFrom('rig', fields.name)
      refuseTaken('rig', name, await rigs.getAll())
      const at = nowIso()
      const rig = { id: newId(), name, document: fields.document, createdAt: at, updatedAt: at }
      await rigs.add(rig)
      return rig
    }),
  change: (id, { basedOn, ...patch }) =>
    writing(['rigs'], async change => {
      const rigs = change.objectStore('rigs')
      const rig = found(await rigs.get(id), 'rig', id)
      refuseStale(`rig “${rig.name}”`, rig, basedOn)
      if (patch.document !== undefined) refuseFaults(rigSchema, patch.document)
      const name = patch.name === undefined ? rig.name : nameFrom('rig', patch.name)
      refuseTaken('rig', name, await rigs.getAll(), id)
      const changed = { ...rig, ...given(patch), name, updatedAt: laterThan(rig.updatedAt) }
      await rigs.put(changed)
      return changed
    }),
}

interface Dated {
  readonly madeAt: string
  readonly rigId: string | null
  readonly id: string
}

/** Newest first; of one rig where it is named. */
const newestFirst = <T extends Dated>(all: readonly T[], rigId: string | undefined): T[] =>
  all
    .filter(one => rigId === undefined || one.rigId === rigId)
    .sort((a, b) => (a.madeAt === b.madeAt ? (a.id < b.id ? -1 : 1) : a.madeAt < b.madeAt ? 1 : -1))

export const pageCalibrations: Backend['calibrations'] = {
  list: async rigId => newestFirst(await (await pageDb()).getAll('calibrations'), rigId),
  keep: fields =>
    writing(['rigs', 'calibrations'], async change => {
      refuseFaults(calibrationSchema, fields.document)
      if (fields.rigId !== null)
        found(await change.objectStore('rigs').get(fields.rigId), 'rig', fields.rigId)
      const kept = { ...fields, id: newId() }
      await change.objectStore('calibrations').add(kept)
      return kept
    }),
}

export const pageChecks: Backend['checks'] = {
  list: async rigId => newestFirst(await (await pageDb()).getAll('checks'), rigId),
  keep: fields =>
    writing(['rigs', 'calibrations', 'checks'], async change => {
      const { rigId, calibrationId, document } = fields
      refuseFaults(checkSchema, document)
      if (rigId !== null) found(await change.objectStore('rigs').get(rigId), 'rig', rigId)
      if (calibrationId !== null)
        found(await change.objectStore('calibrations').get(calibrationId), 'calibration', calibrationId)
      const kept = { ...fields, id: newId() }
      await change.objectStore('checks').add(kept)
      return kept
    }),
}

const MOST_FAULTS = 20

function refuseFaults(schema: z.ZodType, document: unknown): void {
  const parsed = schema.safeParse(document)
  if (parsed.success) return
  throw new Trouble(
    parsed.error.issues.slice(0, MOST_FAULTS).map(issue => ({
      where: ['document', ...issue.path].join('.'),
      what: `${issue.message}.`,
      cure: 'Mend it there.',
    })),
  )
}
