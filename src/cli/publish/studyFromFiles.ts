import { stat } from 'node:fs/promises'
import { basename, dirname, resolve } from 'node:path'
import type { Rig } from '../../core/calibration/rig.ts'
import { fine, type Outcome, problemText } from '../../core/problem.ts'
import { compareGroups } from '../../core/statistics/compare/compareGroups.ts'
import type { LogOptions } from '../../logs/index.ts'
import { unitToTell } from '../../publish/study/forceUnit.ts'
import { USUAL_PAGE } from '../../publish/study/page.ts'
import type { PublishedLog, PublishedSpecimen, PublishedStudy } from '../../publish/study/study.ts'
import type { OpenedReading } from '../compare/readJob.ts'
import { type Found, type FoundInFiles, fromFiles, logOptionsFrom, prepared } from '../compare/sources.ts'
import { nameOfInput, pathOfInput, readBytes } from '../files.ts'
import type { Io } from '../io.ts'
import { dayOf } from '../readFiles.ts'
import { checksPathOf, openChecks, openRig } from '../rigFile.ts'
import type { StudyFlags } from './studyOptions.ts'

/**
 * A study of logs, or of readings as `read --json` prints them, compared as `compare` does with the same options.
 * Checks are those beside the rig's file.
 */
export async function studyFromFiles(
  files: readonly string[],
  flags: StudyFlags,
  io: Io,
): Promise<Outcome<PublishedStudy>> {
  const rig = flags.rig === undefined ? fine(null) : await openRig(flags.rig)
  if (!rig.ok) return rig
  const checks = flags.rig === undefined ? null : await openChecks(checksPathOf(flags.rig))
  if (checks !== null && !checks.ok) return checks
  const found = await fromFiles(files, flags, io, { keepRecordings: true })
  if (!found.ok) return found
  const ready = prepared(found.value, flags)
  if (!ready.ok) return ready
  const log = logOptionsFrom(flags)
  if (!log.ok) return log
  const specimens: PublishedSpecimen[] = []
  for (const opened of ready.value.opened)
    specimens.push(await specimenOf(opened, ready.value, { rig: rig.value, log: log.value }))
  return fine({
    name: flags.name ?? basename(dirname(resolve(files[0] ?? '.'))),
    question: flags.question ?? '',
    method: '',
    quantity: flags.quantity ?? 'peakForce',
    forceUnit: flags.show ?? unitToTell(specimens),
    variants: [...new Set(specimens.map(one => one.variant ?? ''))].map(name => ({
      name,
      control: name === flags.control,
      note: '',
    })),
    specimens: inOrder(specimens, ready.value),
    rig: rig.value,
    checks: checks?.value.checks ?? [],
    plan: null,
    comparison: files.length === 0 ? null : comparisonOf(ready.value, flags),
    comparedWith: {
      per: flags.per ?? null,
      dimensionDoubtMm: flags.dimensionDoubt ?? null,
      shown: ready.value.shown,
      worthShare: flags.worth,
      seed: flags.seed,
      warnings: ready.value.warnings,
    },
    notCompared: null,
    remarks: [],
    photos: [],
    equivalents: [],
    page: USUAL_PAGE,
    films: [],
    madeAt: new Date().toISOString(),
  })
}

const comparisonOf = ({ specimens, unit, shown, quantity, warnings }: Found, flags: StudyFlags) =>
  compareGroups(specimens, {
    quantity,
    unit,
    shown,
    blocksBy: flags.block ?? null,
    control: flags.control ?? null,
    worthShare: flags.worth,
    seed: flags.seed,
    warnings,
  })

async function specimenOf(
  { facts, reading, recording, logs }: OpenedReading,
  { specimens }: Found,
  { rig, log }: { readonly rig: Rig | null; readonly log: LogOptions },
): Promise<PublishedSpecimen> {
  const compared = specimens.find(one => one.name === facts.name && one.group === facts.group)
  const dropped = compared?.dropped ?? facts.dropped ?? null
  const said = reading.specimen
  const { day } = facts
  return {
    name: facts.name,
    variant: facts.group,
    status: dropped === null ? 'pulled' : 'left-out',
    statusReason: dropped ?? '',
    failureMode: facts.mode ?? said?.mode ?? null,
    operator: facts.table?.own.operator ?? '',
    batch: facts.table?.own.batch ?? '',
    temperatureC: null,
    humidityPct: null,
    widthMm: said?.widthMm ?? null,
    thicknessMm: said?.thicknessMm ?? null,
    lengthMm: said?.lengthMm ?? null,
    elements: said?.elements ?? null,
    note: said?.note ?? '',
    remarks: [],
    pullOrder: wholeOrder(facts.order ?? null),
    pulledAt: day !== undefined && day !== null && /^\d{4}-\d{2}-\d{2}$/.test(day) ? day : null,
    photos: [],
    logs: await Promise.all(logs.map((path, i) => logOf(path, i, { reading, log }))),
    recording,
    reading,
    readWith: { rig, day: recording === null ? null : dayOf([recording]), calibration: null },
    setAside: [],
  }
}

const wholeOrder = (order: number | null): number | null =>
  order !== null && Number.isInteger(order) && order > 0 ? order : null

async function logOf(
  path: string,
  place: number,
  { reading, log }: { reading: OpenedReading['reading']; log: LogOptions },
): Promise<PublishedLog> {
  const firstOfEach = reading.recording.segments.filter((one, i) => i === 0 || one.began === 'file')
  return {
    source: 'log',
    startedAt: null,
    name: nameOfInput(path),
    sha256: firstOfEach[place]?.sha256 ?? '',
    byteLength: (await stat(await pathOfInput(path))).size,
    options: log,
    async bytes() {
      const read = await readBytes(path)
      if (!read.ok) throw new Error(read.problems.map(problemText).join(' '))
      return read.value
    },
  }
}

/** In the order of pulling where every one has its place, else as they were found. */
function inOrder(published: readonly PublishedSpecimen[], { opened }: FoundInFiles): PublishedSpecimen[] {
  const places = opened.map(one => one.facts.order ?? null)
  if (places.some(place => place === null)) return [...published]
  return published
    .map((one, i) => ({ one, place: places[i] ?? 0 }))
    .sort((a, b) => a.place - b.place)
    .map(({ one }) => one)
}
