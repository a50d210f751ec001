import { beforeEach, expect, test } from 'vitest'
import type { RecordingEntry, Specimen, Study } from '../../../src/server/apiTypes.ts'
import type { Backend, OpenStudy } from '../../../src/web/data/backend.ts'
import { Trouble } from '../../../src/web/data/trouble.ts'
import type { SpecimenGroup } from '../../../src/web/import/assign.ts'
import { type TakeInPlan, takeIn } from '../../../src/web/import/takeIn.ts'
import type { LogItem } from '../../../src/web/import/types.ts'

/** Every change that was asked for, in order. */
let asked: string[] = []
beforeEach(() => {
  asked = []
})

const refused = (what: string) => Promise.reject(new Trouble([{ where: 'store', what, cure: 'Try again.' }]))

/** A backend that notes what it is asked and refuses logs whose name says so. */
const backend = {
  studies: {
    create: async ({ name }: { name: string }) => {
      asked.push(`study ${name}`)
      return { id: 'S', name, failureModes: ['peeled'] } as unknown as Study
    },
    change: async (_: string, { failureModes }: { failureModes: string[] }) => {
      asked.push(`modes ${failureModes}`)
    },
    remove: async () => void asked.push('no study'),
  },
  variants: {
    create: async (_: string, { name }: { name: string }) => {
      asked.push(`variant ${name}`)
      return { id: `v-${name}`, name }
    },
    remove: async (id: string) => void asked.push(`no ${id}`),
  },
  specimens: {
    create: async (_: string, fields: { name: string; variantId: string | null }) => {
      if (fields.name === 'refused') return refused('no such name.')
      asked.push(`specimen ${fields.name} of ${fields.variantId}`)
      return { id: `s-${fields.name}`, name: fields.name } as Specimen
    },
    change: async (id: string, patch: object) => {
      asked.push(`change ${id} ${JSON.stringify(patch)}`)
      return { id, name: id } as Specimen
    },
    remove: async (id: string) => void asked.push(`no ${id}`),
  },
  recordings: {
    keep: async ({ name, specimenId }: { name: string; specimenId: string | null }) => {
      if (name.includes('bad')) return refused('the disk is full.')
      asked.push(`keep ${name} on ${specimenId}`)
      return { entry: { id: name, specimen: null, setAside: null } as unknown as RecordingEntry, isNew: true }
    },
    place: async (id: string, specimenId: string | null) => void asked.push(`place ${id} on ${specimenId}`),
    setAside: async (id: string, why: string) => void asked.push(`aside ${id}: ${why}`),
    takeBack: async (id: string) => void asked.push(`back ${id}`),
  },
  readings: {
    keep: async (id: string, adjustments: readonly unknown[], basedOn?: string | null) => {
      asked.push(`read ${id} with ${adjustments.length} on ${basedOn}`)
      if (id === 's-counts') return refused('raw counts.')
      return {}
    },
  },
} as unknown as Backend

let nextId = 1
const log = (name: string, known: RecordingEntry | null = null) =>
  ({ id: nextId++, file: new File(['1'], name), options: {}, adjustments: [], known }) as unknown as LogItem
const group = (specimen: string, variant: string, ...logs: LogItem[]): SpecimenGroup => ({
  specimen,
  variant,
  row: null,
  logs: logs.map(item => ({ item, assignment: { specimen, variant, from: 'hand', row: null, parts: null } })),
})
const plan = (groups: SpecimenGroup[], more: Partial<TakeInPlan> = {}): TakeInPlan => ({
  study: { id: null, name: ' Cords ', question: '' },
  open: null,
  groups,
  rigId: null,
  checked: [],
  told: [],
  undoWhy: 'by mistake',
  ...more,
})
const watch = (stopAfter = Number.POSITIVE_INFINITY) => {
  const told: [string, string, number][] = []
  return {
    told,
    log: (item: LogItem, kept: LogItem['kept'], problems: readonly unknown[]) =>
      void told.push([item.file.name, kept, problems.length]),
    stopped: () => told.filter(([, kept]) => kept === 'yes').length >= stopAfter,
  }
}

test('the logs of a specimen are kept in order and read once, variants are made once', async () => {
  const result = await takeIn(
    backend,
    plan([group('p 1', 'paste', log('a'), log('b')), group('p 2', 'paste', log('c'))]),
    watch(),
  )
  expect(asked).toEqual([
    'study Cords',
    'variant paste',
    'specimen p 1 of v-paste',
    'keep a on null',
    'place a on s-p 1',
    'keep b on null',
    'place b on s-p 1',
    'read s-p 1 with 0 on null',
    'specimen p 2 of v-paste',
    'keep c on null',
    'place c on s-p 2',
    'read s-p 2 with 0 on null',
  ])
  expect(result).toMatchObject({ kept: 3, failed: 0, left: 0, specimenIds: ['s-p 1', 's-p 2'] })
})

test('who pulled it, its batch, its day and its place in the order stay unknown where nothing tells them', async () => {
  const made: object[] = []
  const specimens = {
    ...backend.specimens,
    create: async (_: string, fields: { name: string }) => {
      made.push(fields)
      return { id: `s-${fields.name}`, name: fields.name } as Specimen
    },
  }
  const parts = { variant: 'paste', n: '1', part: null, day: null, batch: null, operator: 'Kim', order: null }
  const named = group('p 2', 'paste', log('b'))
  await takeIn(
    { ...backend, specimens } as unknown as Backend,
    plan([
      group('p 1', 'paste', log('a')),
      { ...named, logs: named.logs.map(one => ({ ...one, assignment: { ...one.assignment, parts } })) },
    ]),
    watch(),
  )
  const unknown = { batch: '', pulledOn: null, pullOrder: null }
  expect(made).toMatchObject([
    { ...unknown, operator: '' },
    { ...unknown, operator: 'Kim' },
  ])
})

test('a log that fails holds up no other, on its specimen or after it', async () => {
  const seen = watch()
  const result = await takeIn(
    backend,
    plan([
      group('refused', '', log('x')),
      group('p 1', '', log('bad'), log('b')),
      group('bad only', '', log('bad2')),
    ]),
    seen,
  )
  expect(result).toMatchObject({ kept: 1, failed: 3, specimenIds: ['s-p 1'] })
  expect(seen.told).toEqual([
    ['x', 'no', 1],
    ['bad', 'now', 0],
    ['bad', 'no', 1],
    ['b', 'now', 0],
    ['b', 'yes', 0],
    ['bad2', 'now', 0],
    ['bad2', 'no', 1],
  ])
  expect(asked.filter(line => line.startsWith('read'))).toEqual(['read s-p 1 with 0 on null'])
})

test('stopped between two logs: what is in is read, the rest is left', async () => {
  const result = await takeIn(
    backend,
    plan([group('p 1', '', log('a'), log('b')), group('p 2', '', log('c'))]),
    watch(1),
  )
  expect(result).toMatchObject({ kept: 1, left: 2 })
  expect(asked.at(-1)).toBe('read s-p 1 with 0 on null')
})

test('a specimen that cannot be read yet keeps its logs, and the reason is told', async () => {
  const result = await takeIn(backend, plan([group('counts', '', log('a'))]), watch())
  expect(result.kept).toBe(1)
  expect(result.unread).toEqual([{ where: 'counts', what: 'raw counts.', cure: 'Try again.' }])
})

test('a recording that was set aside is taken back and placed; undo sets it aside for its old reason', async () => {
  const known = { id: 'R', specimen: null, setAside: { at: '', why: 'spoiled' } } as unknown as RecordingEntry
  const result = await takeIn(backend, plan([group('p', 'v', log('a', known))]), watch())
  expect(asked.slice(3, 5)).toEqual(['back R', 'place R on s-p'])
  asked = []
  await result.undo()
  expect(asked).toEqual(['place R on null', 'aside R: spoiled', 'no s-p', 'no v-v', 'no study'])
})

test('on a specimen that is there, only what nobody has said is filled in, and its adjustments are replayed', async () => {
  const specimen = {
    id: 's1',
    name: 'p 1',
    status: 'planned',
    variantId: 'v1',
    widthMm: 90,
    elements: null,
    failureMode: null,
    note: 'mine',
    operator: '',
  }
  const open = {
    study: { id: 'S', name: 'Cords', failureModes: ['peeled'] },
    variants: [{ id: 'v1', name: 'paste' }],
    specimens: [specimen],
    readings: [{ id: 'r1', specimenId: 's1', adjustments: [{}, {}] }],
    recordings: [{ specimen: { id: 's1' }, setAside: null }],
  } as unknown as OpenStudy
  const row = {
    line: 2,
    file: 'a',
    specimen: 'p 1',
    variant: 'paste',
    elements: 8,
    widthMm: 80,
    thicknessMm: null,
    lengthMm: null,
    mode: 'tore',
    note: 'theirs',
  }
  const result = await takeIn(backend, plan([{ ...group('p 1', 'paste', log('a')), row }], { open }), watch())
  expect(asked).toEqual([
    'modes peeled,tore',
    'change s1 {"elements":8,"failureMode":"tore","status":"pulled"}',
    'keep a on null',
    'place a on s1',
    'read s1 with 2 on r1',
  ])
  asked = []
  await result.undo()
  expect(asked).toEqual([
    'place a on null',
    'aside a: by mistake',
    'change s1 {"elements":null,"failureMode":null,"status":"planned"}',
    'read s1 with 2 on undefined',
  ])
})

test('what a package tells of a specimen is kept as it is told, and what it does not tell stays unknown; a typed peak comes back', async () => {
  const peak = { value: 44, unit: 'N', isAtLeast: false, step: null, doubt: null, who: 'Ada' } as const
  const fields = (name: string, more: object) => ({
    name,
    failureMode: null,
    operator: '',
    batch: '',
    pulledOn: null,
    pullOrder: null,
    typedPeak: null,
    ...more,
  })
  const made: object[] = []
  const specimens = {
    ...backend.specimens,
    create: async (_: string, all: { name: string }) => {
      made.push(all)
      return { id: `s-${all.name}`, name: all.name } as Specimen
    },
  }
  const told = [
    {
      variant: 'paste',
      hasLogs: true,
      fields: fields('p 1', { pulledOn: '2026-05-03', pullOrder: 2, batch: 'b' }),
    },
    { variant: 'tape', hasLogs: false, fields: fields('t 1', { typedPeak: peak }) },
    { variant: 'tape', hasLogs: false, fields: fields('t 2', {}) },
  ]
  const taken = await takeIn(
    { ...backend, specimens } as unknown as Backend,
    plan([group('p 1', 'paste', log('a'))], { told }),
    { log: () => {}, stopped: () => false },
  )
  expect(made).toMatchObject([
    { name: 'p 1', pulledOn: '2026-05-03', pullOrder: 2, batch: 'b', operator: '' },
    { name: 't 1', pulledOn: null, pullOrder: null, typedPeak: peak, operator: '', variantId: 'v-tape' },
  ])
  expect(made).toHaveLength(2)
  expect(taken.specimenIds).toEqual(['s-p 1', 's-t 1'])
  expect(asked).toContain('read s-t 1 with 0 on null')
})
