import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Command } from 'commander'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { EXIT } from '../../src/cli/io.ts'
import type { ClipTargets } from '../../src/cli/publish/clipTarget.ts'
import { addTargetOptions, type TargetFlags } from '../../src/cli/publish/targetOptions.ts'
import { withTargets } from '../../src/cli/publish/withTargets.ts'
import type { Adjustment } from '../../src/core/reading/adjustment.ts'
import type { Reading } from '../../src/core/reading/document.ts'
import { readLog } from '../../src/logs/index.ts'
import { isSound, verifyPackage } from '../../src/publish/package/verifyPackage.ts'
import { sha256 } from '../../src/server/hash.ts'
import { openRaw } from '../../src/server/openRaw.ts'
import { publishedStudy } from '../../src/server/publishedStudy.ts'
import { keepReading, previewReading } from '../../src/server/specimenReading.ts'
import type { Store } from '../../src/store/index.ts'
import { keepLooks } from '../../src/web/engine/looks.ts'
import { specimenSource } from '../../src/web/engine/specimenSource.ts'
import { filesOf, sourceOf } from '../publish/package/sources.ts'
import { good, openAt } from '../store/stores.ts'
import { ran } from './fakeIo.ts'
import { withInput } from './withInput.ts'

/** A pull of `topN` at 20 a second: rest, an even rise, a break, rest; with a little unrest, always the same. */
function pullLog(
  topN: number,
  { header = 'time_s,force_N', factor = 1, offset = 0, breaks = true } = {},
): string {
  const rows: string[] = [header]
  const from = new Date('2026-05-04T10:00:00Z').getTime()
  for (let i = 0; i < 400; i++) {
    const rise = i < 60 ? 0 : i < 300 ? ((i - 60) / 240) * topN : breaks ? 0 : topN * (1 - (i - 300) / 100)
    const unrest = ((i * 7919) % 13) / 13 - 0.5
    const stamp = header.startsWith('at') ? new Date(from + i * 50).toISOString() : (i / 20).toFixed(2)
    rows.push(`${stamp},${((rise + 0.04 * unrest) * factor + offset).toFixed(3)}`)
  }
  return `${rows.join('\n')}\n`
}

const quickScale = (more: object) => ({
  document: 'tenterhook.quick-scale',
  version: 1,
  date: '2026-05-01',
  basis: 'one-mass',
  readingUnit: 'counts',
  newtonPerReading: 1e-4,
  zeroReading: 8_000,
  appliedN: 20,
  doubtPct: 1,
  ...more,
})
const rigWith = (...scales: object[]) => ({ name: 'bench', calibrations: scales.map(quickScale) })

interface Case {
  readonly title: string
  readonly logs: readonly string[]
  readonly rig?: object
  readonly capacityN?: number
  /** Beginning of the key of a calibration of the rig, chosen in the store. */
  readonly calibration?: string
  readonly adjustments?: readonly Adjustment[]
  readonly elements?: number
  readonly shows: (reading: Reading) => void
}

const codes = ({ warnings }: Reading): string[] => warnings.map(({ code }) => code)
const COUNTS = { header: 'time_s,counts', factor: 1e4, offset: 8_000 }

const CASES: readonly Case[] = [
  {
    title: 'plain',
    logs: [pullLog(60)],
    shows: ({ results }) => expect(results.peakForce.valueN).toBeCloseTo(59.8, 0),
  },
  {
    title: 'plain with times of day and elements told',
    logs: [pullLog(60, { header: 'at,force_kg' })],
    elements: 4,
    shows: reading => expect(reading.specimen?.elements).toBe(4),
  },
  {
    title: 'counts without a rig',
    logs: [pullLog(60, COUNTS)],
    shows: reading => {
      expect(reading.recording.forceUnit).toBe('counts')
      expect(reading.results.peakForce.valueN).toBeGreaterThan(500_000)
      expect(codes(reading)).toContain('counts-not-calibrated')
      for (const { text } of reading.warnings) expect(text).not.toMatch(/\d N\b/)
    },
  },
  {
    title: 'counts with a rig',
    logs: [pullLog(60, COUNTS)],
    rig: rigWith({}),
    shows: ({ results }) => expect(results.peakForce.valueN).toBeCloseTo(59.8, 0),
  },
  {
    title: 'counts that fall in a pull, with a rig whose calibration says so',
    logs: [pullLog(60, { ...COUNTS, factor: -1e4 })],
    rig: rigWith({ newtonPerReading: -1e-4 }),
    shows: reading => {
      expect(reading.results.peakForce.valueN).toBeCloseTo(59.8, 0)
      expect(codes(reading)).not.toContain('tension-assumed')
    },
  },
  {
    title: 'tension counted negative, with a rig that does not tell its sign',
    logs: [pullLog(60, { factor: -1 })],
    rig: { name: 'bench', strokeMm: 40 },
    shows: reading => {
      expect(reading.results.peakForce).toMatchObject({ status: 'measured' })
      expect(reading.results.peakForce.valueN).toBeCloseTo(59.8, 0)
    },
  },
  {
    title: 'tension counted negative, as the rig tells',
    logs: [pullLog(60, { factor: -1 })],
    rig: { name: 'bench', sign: -1 },
    shows: reading => {
      expect(reading.results.peakForce.valueN).toBeCloseTo(59.8, 0)
      expect(codes(reading)).not.toContain('tension-assumed')
    },
  },
  {
    title: 'beyond the calibration of the rig',
    logs: [pullLog(60)],
    rig: rigWith({ readingUnit: 'N', newtonPerReading: 1.01, zeroReading: 0 }),
    shows: reading => expect(codes(reading)).toContain('beyond-calibration'),
  },
  {
    title: 'a capacity told when it was recorded',
    logs: [pullLog(60)],
    capacityN: 60.01,
    shows: ({ results }) => expect(results.peakForce.status).toBe('at-least'),
  },
  {
    title: 'a calibration chosen over that of its day',
    logs: [pullLog(60, { ...COUNTS, header: 'at,counts' })],
    rig: rigWith({}, { date: '2199-06-01', newtonPerReading: 2e-4 }),
    calibration: '2199-06-01',
    shows: reading => {
      expect(reading.results.peakForce.valueN).toBeCloseTo(119.6, 0)
      expect(codes(reading)).toContain('calibration-chosen')
    },
  },
  {
    title: 'two logs',
    logs: [pullLog(30, { breaks: false }), pullLog(60)],
    shows: ({ recording }) => expect(recording.segments).toHaveLength(2),
  },
  {
    title: 'adjustments',
    logs: [pullLog(60)],
    adjustments: [
      {
        id: 'z',
        who: 'Ada',
        when: '2026-05-04T12:00:00Z',
        why: 'nothing hung on it',
        fromS: 0.2,
        toS: 1.5,
        kind: 'zero-here',
      },
    ],
    shows: reading => expect(reading.adjustments).toHaveLength(1),
  },
  {
    title: 'not reached: let down again, unbroken',
    logs: [pullLog(60, { breaks: false })],
    shows: ({ results }) => expect(results.peakForce.status).toBe('not-reached'),
  },
]

async function choose(store: readonly string[], key: string): Promise<void> {
  const chosen = await ran(['specimen', 'calibration', '--study', 'Handles', '--of', key, ...store])
  expect(chosen.code, chosen.err).toBe(EXIT.ok)
}

let folder = ''
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-doors-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

describe.each(CASES)('$title', one => {
  /** Its files, and the words that name them. */
  async function written() {
    const place = await mkdtemp(join(folder, 'case-'))
    const paths = one.logs.map((_, i) => join(place, `log-${i + 1}.csv`))
    await Promise.all(paths.map((path, i) => writeFile(path, one.logs[i]!)))
    const table = join(place, 'specimens.csv')
    const rows = paths.map((_, i) => `log-${i + 1}.csv,paste 1,paste,${one.elements ?? ''}`)
    await writeFile(table, `file,specimen,variant,elements\n${rows.join('\n')}\n`)
    const rig = join(place, 'rig.json')
    await writeFile(rig, JSON.stringify({ document: 'tenterhook.rig', version: 1, ...one.rig }))
    const adjust = join(place, 'adjust.json')
    const adjustments = one.adjustments ?? []
    await writeFile(adjust, JSON.stringify({ document: 'tenterhook.adjustments', version: 1, adjustments }))
    const rigWords = one.rig === undefined ? [] : ['--rig', rig]
    const adjustWords = adjustments.length === 0 ? [] : ['--adjust', adjust]
    return { place, paths, table, rigWords, adjustWords, store: ['--store', join(place, 'store')] }
  }

  /** What the command line reads from the files; nothing where a capacity was told, which no log can say. */
  async function fromFiles({ paths, table, rigWords, adjustWords }: Awaited<ReturnType<typeof written>>) {
    const words = [
      'read',
      '--json',
      '--specimen',
      '--specimens',
      table,
      ...rigWords,
      ...adjustWords,
      ...paths,
    ]
    const read = await ran(words)
    expect(read.code, read.err).toBe(EXIT.ok)
    return read.out.trim()
  }

  async function taken({ paths, rigWords, store, place }: Awaited<ReturnType<typeof written>>) {
    if (one.capacityN === undefined) {
      const names = ['--study', 'Handles', '--variant', 'paste', '--specimen', 'paste 1']
      const imported = await ran(['import', ...names, ...rigWords, ...paths, ...store])
      expect(imported.code, imported.err).toBe(EXIT.ok)
    }
    const opened = await openAt(join(place, 'store'))
    const specimen = good(
      await opened.specimens.named({ study: 'Handles', variant: 'paste', specimen: 'paste 1' }),
    )
    good(await opened.specimens.update(specimen.id, { elements: one.elements ?? null }))
    if (one.calibration !== undefined) await choose(store, one.calibration)
    if (one.capacityN !== undefined) {
      const log = new TextEncoder().encode(one.logs[0])
      const recording = good(readLog(log, 'log-1.csv'))
      const logOptions = { capacityN: one.capacityN }
      good(
        await opened.recordings.save({ recording, log, source: 'log', specimenId: specimen.id, logOptions }),
      )
    }
    good(await keepReading(opened, specimen.id, one.adjustments ?? []))
    return { opened, specimen }
  }

  /** The reading that the engine of the app makes of what the server gives it. */
  async function appReading(store: Store, specimenId: string): Promise<Reading> {
    const [study] = await store.studies.list()
    const { items } = await store.recordings.list({ studyId: study!.id, limit: 100 })
    const open = {
      study: study!,
      variants: await store.variants.list(study!.id),
      specimens: await store.specimens.list(study!.id),
      recordings: items,
    }
    const lookAt = keepLooks(async id => good(await store.recordings.load(id)))
    const source = specimenSource(open, specimenId, await store.rigs.list())
    return good(await lookAt({ ...source!, adjustments: one.adjustments ?? [] })).reading
  }

  /** As `record` takes it from a line that sends the log, one recording a log; what it prints of the last. */
  async function recorded({ paths, rigWords, store, place }: Awaited<ReturnType<typeof written>>) {
    let told: { reading: Reading } | null = null
    for (const path of paths) {
      const words = ['record', '--stdin', '--study', 'Handles', '--variant', 'paste', '--specimen', 'paste 1']
      const said = [
        ...(one.elements === undefined ? [] : ['--elements', String(one.elements)]),
        ...(one.capacityN === undefined ? [] : ['--capacity', `${one.capacityN}N`]),
      ]
      const done = await withInput(await readFile(path), () =>
        ran([...words, ...said, ...rigWords, ...store, '--json']),
      )
      expect(done.code, done.err).toBe(EXIT.ok)
      told = JSON.parse(done.out) as { reading: Reading }
    }
    if (one.calibration !== undefined) await choose(store, one.calibration)
    const opened = await openAt(join(place, 'store'))
    const specimen = good(
      await opened.specimens.named({ study: 'Handles', variant: 'paste', specimen: 'paste 1' }),
    )
    // What is said of it afterwards is said in the store.
    if (one.adjustments !== undefined) good(await keepReading(opened, specimen.id, one.adjustments))
    return { opened, specimen, told: told!.reading }
  }

  /** The readings that a clip, a caption or an overlay would show. */
  async function clipReadings(words: readonly string[]): Promise<string[]> {
    let found: ClipTargets | null = null
    const command = addTargetOptions(new Command().argument('[file...]').exitOverride())
    command.action(async (files: string[], flags: TargetFlags) => {
      const io = { out: () => {}, err: () => {}, outIsTerminal: false, errIsTerminal: false, columns: 100 }
      await withTargets(files, flags, { ...io, env: {} }, async targets => {
        found = targets
        return EXIT.ok
      })
    })
    await command.parseAsync([...words], { from: 'user' })
    return (found as ClipTargets | null)?.targets.map(({ reading }) => JSON.stringify(reading)) ?? []
  }

  test('reads the same through every door, to the byte', async () => {
    const files = await written()
    const { opened, specimen } = await taken(files)
    try {
      const kept = (await opened.readings.history({ specimenId: specimen.id }))[0]!.reading
      one.shows(kept)
      if (one.capacityN === undefined && one.calibration === undefined) {
        const document = JSON.stringify(kept)
        expect(await fromFiles(files)).toBe(document)
        const adjust = files.adjustWords.slice(1).flatMap(path => ['--adjust', `paste 1=${path}`])
        const words = ['--specimens', files.table, ...files.rigWords, ...adjust, ...files.paths]
        expect(await clipReadings(words)).toEqual([document])
      }
      await sameInStore(opened, specimen.id, kept, files)
    } finally {
      await opened.close()
    }
  })

  test('recorded from a line it reads the same as it is told at once and through every door, to the byte', async () => {
    const files = await written()
    const { opened, specimen, told } = await recorded(files)
    try {
      const kept = (await opened.readings.history({ specimenId: specimen.id }))[0]!.reading
      one.shows(kept)
      // What was said afterwards is not in what was told at once.
      if (one.adjustments === undefined && one.calibration === undefined)
        expect(JSON.stringify(told)).toBe(JSON.stringify(kept))
      await sameInStore(opened, specimen.id, kept, files)
    } finally {
      await opened.close()
    }
  })

  /** The document is that of the server's answer, the app's engine, the report, the package, its proof, `show` and a clip. */
  async function sameInStore(
    opened: Store,
    specimenId: string,
    kept: Reading,
    files: Awaited<ReturnType<typeof written>>,
  ): Promise<void> {
    const document = JSON.stringify(kept)
    const [entry] = (await opened.recordings.list({})).items
    const preview = good(await previewReading(opened, specimenId, one.adjustments ?? []))
    expect(JSON.stringify(preview.reading)).toBe(document)
    expect(JSON.stringify(await appReading(opened, specimenId))).toBe(document)
    const study = good(await publishedStudy(opened, 'Handles'))
    expect(JSON.stringify(study.specimens[0]?.reading)).toBe(document)
    const verified = good(await verifyPackage(sourceOf(await filesOf(study)), sha256, openRaw))
    expect([verified.differences, verified.notMade]).toEqual([[], []])
    expect(isSound(verified)).toBe(true)
    const shown = await ran(['show', entry!.id, '--json', ...files.store])
    expect(JSON.stringify((JSON.parse(shown.out) as { reading: Reading }).reading)).toBe(document)
    expect(await clipReadings(['--study', 'Handles', ...files.store])).toEqual([document])
    if (kept.recording.forceUnit !== 'counts') return
    const page = join(files.place, 'report.html')
    const told = await ran(['report', '--study', 'Handles', '--out', page, ...files.store])
    expect(told.code, told.err).toBe(EXIT.ok)
    const body = (await readFile(page, 'utf8'))
      .replace(/<(style|script)[\s\S]*?<\/\1>/g, '')
      .replace(/<[^>]*>/g, ' ')
    const text = `${(await ran(['show', entry!.id, ...files.store])).out}${body}`
    expect(text).toMatch(/\d counts/)
    expect(text.match(/.{0,60}\d (N|kgf)\b.{0,30}/g)).toBeNull()
  }
})

test('a log that goes against the sign that its rig tells is an error that says so, through every door', async () => {
  const log = join(folder, 'against.csv')
  const rig = join(folder, 'told.json')
  await writeFile(log, pullLog(60, { factor: -1 }))
  await writeFile(rig, JSON.stringify({ document: 'tenterhook.rig', version: 1, name: 'bench', sign: 1 }))
  const read = await ran(['read', '--rig', rig, log])
  expect(read.code).toBe(EXIT.input)
  expect(read.err).toContain('the force goes down in the pull, but by bench a pull raises the reading')
  const store = ['--store', join(folder, 'against')]
  const names = ['--study', 'Handles', '--variant', 'paste']
  const imported = await ran(['import', ...names, '--rig', rig, log, ...store])
  expect(imported.err).toContain('the force goes down in the pull, but by bench a pull raises the reading')
  const compared = await ran(['compare', '--by', '{variant}.csv', '--rig', rig, log])
  expect(compared.code).toBe(EXIT.input)
  // Of the study in the store, too: alone, and as one of several.
  const kept = await ran(['compare', '--study', 'Handles', ...store])
  expect(kept.code).toBe(EXIT.input)
  expect(kept.err).toContain('the force goes down in the pull, but by bench a pull raises the reading')
  const good = ['a', 'b'].map(name => join(folder, `good-${name}.csv`))
  await Promise.all(good.map((path, i) => writeFile(path, pullLog(60 + i))))
  await ran(['import', ...names, '--rig', rig, ...good, ...store])
  const beside = await ran(['compare', '--study', 'Handles', ...store])
  expect(beside.code, beside.err).toBe(EXIT.ok)
  expect(beside.out.replace(/\s+/g, ' ')).toContain(
    'against was recorded and cannot be read, and so is in no figure. against.csv: the force goes down in the pull',
  )
  const page = join(folder, 'against.html')
  await ran(['report', '--study', 'Handles', '--out', page, ...store])
  expect(await readFile(page, 'utf8')).toContain('against was recorded and cannot be read')
})

test('a log that goes against the sign that a person tells of it is an error that says so, through every door', async () => {
  const log = join(folder, 'told-wrong.csv')
  await writeFile(log, pullLog(60, { factor: -1 }))
  const says = 'tension was told to be positive, but the force goes down from its rest in the pull'
  const store = ['--store', join(folder, 'told-wrong')]
  for (const words of [
    ['read', log],
    ['compare', '--by', '{variant}.csv', log],
    ['import', '--study', 'Handles', log, ...store],
  ]) {
    const refused = await ran([...words, '--tension', 'positive'])
    expect(refused.code, words[0]).toBe(EXIT.input)
    expect(refused.err).toContain(says)
  }
  expect((await ran(['list', '--json', ...store])).out).not.toContain('told-wrong')
  const recorded = await withInput(await readFile(log), () =>
    ran(['record', '--stdin', '--tension', 'positive', '--study', 'Handles', '--json', ...store]),
  )
  const { reading } = JSON.parse(recorded.out) as { reading: Reading }
  expect(reading.warnings.map(({ text }) => text).join(' ')).toContain('The force goes clearly down')
})
