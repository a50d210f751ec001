import type { Edit, Edited, Problem, SpecimenEdit } from '../../../server/apiTypes.ts'
import type { Engine } from '../../engine/types.ts'
import type { Backend } from '../backend.ts'
import { problemsOf, Trouble } from '../trouble.ts'
import {
  found,
  type KeptEdit,
  laterThan,
  newId,
  nowIso,
  pageDb,
  type KeptRow as Row,
  type RowChange,
  writing,
} from './db.ts'
import { applyEdit, EDITED, type Editing } from './editSteps.ts'
import { entriesOf } from './entries.ts'
import { factsOfKept, keepReading, newestReadings } from './readings.ts'
import { pageStudies } from './studies.ts'

const TABLES = ['variants', 'specimens', 'recordings'] as const

/** What is changed of specimens, kept as a list in the browser's storage as the server's store keeps it. */
export const pageEdits = (engine: Engine): Backend['edits'] => ({
  async list(studyId) {
    const all = await (await pageDb()).getAllFromIndex('edits', 'studyId', studyId)
    return all.sort((a, b) => (a.madeAt < b.madeAt ? 1 : -1)).map(listed)
  },
  removed: async studyId =>
    (await (await pageDb()).getAllFromIndex('specimens', 'studyId', studyId)).filter(one => one.removedAt),
  apply: (studyId, steps, { who, what }) =>
    readingAnew(engine, studyId, onNamedRig(steps), () =>
      writing(EDITED, async change => {
        const before = await rowsOf(change, studyId)
        for (const step of steps) await applyEdit(change, studyId, step)
        const changes = await changesSince(change, studyId, before)
        if (changes.length === 0) return null
        const edits = change.objectStore('edits')
        const last = (await edits.index('studyId').getAll(studyId)).map(({ madeAt }) => madeAt).sort()
        const edit: KeptEdit = {
          id: newId(),
          studyId,
          madeAt: laterThan(last.at(-1)),
          who,
          what,
          takenBackAt: null,
          changes,
        }
        await edits.add(edit)
        return listed(edit)
      }),
    ),
  turn: (studyId, id, way) =>
    readingAnew(engine, studyId, new Set(), () =>
      writing(EDITED, async change => {
        const edits = change.objectStore('edits')
        const edit = found(await edits.get(id), 'edit', id)
        if ((edit.takenBackAt !== null) === (way === 'back')) return listed(edit)
        const changes =
          way === 'again'
            ? edit.changes
            : edit.changes.map(one => ({ ...one, before: one.after, after: one.before }))
        for (const { table, id: rowId, before } of changes)
          if (!isSame(await rowOf(change, table, rowId), before))
            throw new Trouble([
              {
                where: `“${edit.what}”`,
                what: 'a later change touched the same, so it cannot be turned by itself.',
                cure: 'Take the later changes back first, the newest before the others.',
              },
            ])
        for (const one of changes) await writeRow(change, one)
        const turned = { ...edit, takenBackAt: way === 'back' ? nowIso() : null }
        await edits.put(turned)
        return listed(turned)
      }),
    ),
})

const listed = ({ changes: _, ...edit }: KeptEdit): Edit => edit

const keyOf = (table: string, id: string): string => `${table} ${id}`

async function rowsOf(change: Editing, studyId: string): Promise<Map<string, RowChange>> {
  const rows = new Map<string, RowChange>()
  const specimens = await change.objectStore('specimens').index('studyId').getAll(studyId)
  const ids = new Set(specimens.map(({ id }) => id))
  const recordings = (await change.objectStore('recordings').getAll()).filter(
    ({ specimenId }) => specimenId !== null && ids.has(specimenId),
  )
  const all = {
    variants: await change.objectStore('variants').index('studyId').getAll(studyId),
    specimens,
    recordings,
  }
  for (const table of TABLES)
    for (const { id } of all[table]) {
      const before = await rowOf(change, table, id)
      rows.set(keyOf(table, id), { table, id, before, after: null })
    }
  return rows
}

async function rowOf(change: Editing, table: RowChange['table'], id: string): Promise<Row | null> {
  const row = (await change.objectStore(table).get(id)) as Row | undefined
  if (row === undefined) return null
  if (table === 'recordings') {
    const { specimenId, place, rigId, calibration = null } = row
    return { specimenId, place, rigId, calibration }
  }
  if (table === 'variants') return row
  const { updatedAt: _, ...said } = row
  return { removedAt: null, ...said }
}

async function changesSince(
  change: Editing,
  studyId: string,
  was: ReadonlyMap<string, RowChange>,
): Promise<RowChange[]> {
  const is = await rowsOf(change, studyId)
  const changes: RowChange[] = []
  for (const key of new Set([...was.keys(), ...is.keys()])) {
    const { table, id } = (was.get(key) ?? is.get(key))!
    const before = was.get(key)?.before ?? null
    const after = await rowOf(change, table, id)
    if (!isSame(before, after)) changes.push({ table, id, before, after })
  }
  return changes
}

const isSame = (a: Row | null, b: Row | null): boolean =>
  a === null || b === null
    ? a === b
    : Object.keys({ ...a, ...b }).every(
        field => JSON.stringify(a[field] ?? null) === JSON.stringify(b[field] ?? null),
      )

async function writeRow(change: Editing, { table, id, after }: RowChange): Promise<void> {
  const store = change.objectStore(table)
  if (after === null) {
    await store.delete(id)
    return
  }
  const now = (await store.get(id)) as Row | undefined
  const stamp = table === 'specimens' ? { updatedAt: laterThan(now?.updatedAt as string | undefined) } : {}
  await store.put({ ...now, ...after, ...stamp } as never)
}

/** Recordings whose rig is named: a rig that was theirs already may have been described or calibrated anew since they were read. */
const onNamedRig = (steps: readonly SpecimenEdit[]): ReadonlySet<string> =>
  new Set(steps.flatMap(step => (step.kind === 'rig' ? step.recordingIds : [])))

/** Makes a change, and reads anew what is another by it, and of these recordings anyway. */
async function readingAnew(
  engine: Engine,
  studyId: string,
  anyway: ReadonlySet<string>,
  change: () => Promise<Edit | null>,
): Promise<Edited> {
  const before = await basesOf(studyId)
  const edit = await change()
  const reread: Edited['reread'][number][] = []
  const problems: Problem[] = []
  for (const [id, { base, name, reading, hasSource, recordingIds }] of await basesOf(studyId)) {
    if (before.get(id)?.base === base && !recordingIds.some(one => anyway.has(one))) continue
    const was = before.get(id)?.reading ?? reading
    if (!hasSource) {
      if (was !== null) reread.push({ specimen: name, before: was, after: null })
      continue
    }
    const after = await keepReading(engine, id).catch((error: unknown) => {
      problems.push(...problemsOf(error))
      return null
    })
    reread.push({ specimen: name, before: was, after: after?.reading ?? null })
  }
  return { edit, reread, problems }
}

/** What the reading of each specimen is made from. */
async function basesOf(studyId: string) {
  const { specimens } = await pageStudies.open(studyId)
  const readings = new Map((await newestReadings(specimens)).map(one => [one.specimenId, one.reading]))
  const entries = await entriesOf({ studyId })
  const bases = await Promise.all(
    specimens.map(async specimen => {
      const own = entries
        .filter(entry => entry.specimen?.id === specimen.id)
        .map(({ id, rigId, calibration }) => [id, rigId, calibration])
      const { typedPeak, name, id } = specimen
      // The day says which calibration of a rig counts.
      const pulledOn = own.some(([, rigId]) => rigId !== null) ? specimen.pulledOn : null
      const base = JSON.stringify([own, typedPeak, pulledOn, await factsOfKept(specimen)])
      const hasSource = own.length > 0 || typedPeak !== null
      const recordingIds = own.map(([recordingId]) => recordingId ?? '')
      return [id, { base, name, hasSource, recordingIds, reading: readings.get(id) ?? null }] as const
    }),
  )
  return new Map(bases)
}
