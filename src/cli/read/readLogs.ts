import { basename, extname } from 'node:path'
import type { Rig } from '../../core/calibration/rig.ts'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Adjustment } from '../../core/reading/adjustment.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import {
  fewFacts,
  mayBeSeveral,
  type SpecimenFacts,
  type SpecimenRead,
  type SpecimenRow,
} from '../../logs/index.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { type LogFlags, logOptionsOf } from '../logOptions.ts'
import { progress } from '../progress.ts'
import { type ReadFilesOptions, readFiles, readTables } from '../readFiles.ts'
import { readingText, shownIn } from '../readingText.ts'
import { openRig } from '../rigFile.ts'
import { openAdjustments, openSpecimensTable } from '../sideFiles.ts'
import { areApart, tablesTold } from '../tables.ts'
import { tell } from '../tell.ts'
import { writeFigure } from '../writeFigure.ts'

export interface ReadFlags extends LogFlags {
  readonly json?: true
  readonly why?: true
  readonly elements?: number
  readonly specimens?: string
  readonly specimen?: true
  readonly each?: true
  readonly show?: ForceUnit
  readonly figure?: string
  readonly dark?: true
  readonly adjust?: string
  readonly rig?: string
}

/** Reads logs, one after another, and tells what each says. */
export async function readLogs(files: readonly string[], flags: ReadFlags, io: Io): Promise<ExitCode> {
  const sides = await openSides(flags, io)
  if (!sides.ok) return tell(io, sides.problems, EXIT.input)
  const { rowOf } = sides.value
  const specimens = groupFiles(files, flags.specimen === true, rowOf)
  let code: ExitCode = EXIT.ok
  let place = 0
  for (const group of specimens) {
    for (const read of await readGroup(group, flags, sides.value, io)) {
      if (!read.ok) {
        code = tell(io, read.problems, EXIT.input)
        continue
      }
      const { recording, reading } = read.value
      if (flags.json) io.out(`${JSON.stringify(reading)}\n`)
      else {
        io.out(
          `${place > 0 ? '\n' : ''}${readingText(recording, reading, { io, show: flags.show ?? null, why: flags.why === true })}`,
        )
      }
      place++
      if (flags.figure === undefined) continue
      // What draws is loaded only when something is drawn: a short log is read in a few Node starts.
      const { readingFigure } = await import('../../publish/figure/readingFigure.ts')
      const { DARK, LIGHT } = await import('../../publish/figure/look.ts')
      const isOne = specimens.length === 1 && reading.recording.name === basename(group.paths[0]!)
      const path = isOne ? flags.figure : numbered(flags.figure, reading.recording.name)
      const figure = readingFigure(recording, reading, {
        unit: shownIn(reading, flags.show ?? null),
        look: flags.dark ? DARK : LIGHT,
      })
      const written = await writeFigure(path, figure)
      if (!written.ok) code = tell(io, written.problems, EXIT.output)
    }
  }
  return code
}

/** The reading of a specimen; of a file with several tables, that of each where each has a name or where it is asked. */
async function readGroup(
  { name, paths, row }: SpecimenFiles,
  flags: ReadFlags,
  { rig, adjustments }: Sides,
  io: Io,
): Promise<Outcome<SpecimenRead>[]> {
  const [path = ''] = paths
  const shown = progress(io, `reading ${basename(path)}`)
  const options: ReadFilesOptions = {
    log: logOptionsOf(flags),
    rig,
    onProgress: (_path, done, all) => shown.tell(done, all),
    facts: specimenOf(row, name, flags.elements ?? null),
    adjustments,
  }
  const read = await readFiles(paths, options)
  shown.end()
  const whole = read.ok ? fine(read.value.recording) : read
  if (paths.length > 1 || flags.specimen || !(flags.each || mayBeSeveral(whole))) return [read]
  const tables = await readTables(path, options)
  if (tables.length < 2) {
    if (flags.each) io.err(`${printable(basename(path))}: one table only.\n`)
    return [read]
  }
  // A table of specimens says one thing of the whole file.
  const isEach = areApart(tables, flags.each ?? (row === null ? undefined : false))
  io.err(`${printable(basename(path))}: ${tablesTold(tables, isEach, read.ok, READ_WORDS)}\n`)
  return isEach ? tables.map(table => table.read) : [read]
}

const READ_WORDS = { done: 'read', does: 'reads', asOne: '--specimen reads them as one' }

interface Sides {
  readonly rowOf: (path: string) => SpecimenRow | null
  readonly adjustments: readonly Adjustment[]
  readonly rig: Rig | null
}

async function openSides(flags: ReadFlags, io: Io): Promise<Outcome<Sides>> {
  const rows = flags.specimens === undefined ? null : await openSpecimensTable(flags.specimens, io)
  const adjustments = flags.adjust === undefined ? null : await openAdjustments(flags.adjust)
  const rig = flags.rig === undefined ? null : await openRig(flags.rig)
  const problems = [rows, adjustments, rig].flatMap(side => (side && !side.ok ? side.problems : []))
  if (problems.length > 0) return { ok: false, problems }
  return {
    ok: true,
    value: {
      rowOf: rows?.ok ? rows.value : () => null,
      adjustments: adjustments?.ok ? adjustments.value : [],
      rig: rig?.ok ? rig.value : null,
    },
  }
}

interface SpecimenFiles {
  readonly name: string | null
  readonly paths: string[]
  readonly row: SpecimenRow | null
}

/** Files that make one specimen: all of them when asked so, else those that the table gives the same specimen. */
function groupFiles(files: readonly string[], together: boolean, rowOf: Sides['rowOf']): SpecimenFiles[] {
  const first = files[0]
  if (together && first !== undefined) {
    const row = rowOf(first)
    return [{ name: row?.specimen ?? null, paths: [...files], row }]
  }
  const groups: SpecimenFiles[] = []
  for (const path of files) {
    const row = rowOf(path)
    const name = row?.specimen ?? null
    const group = name === null ? undefined : groups.find(g => g.name === name)
    if (group) group.paths.push(path)
    else groups.push({ name, paths: [path], row })
  }
  return groups
}

/** What is known of the specimen beside its logs; `null` when nothing is. */
function specimenOf(
  row: SpecimenRow | null,
  name: string | null,
  elements: number | null,
): SpecimenFacts | null {
  if (row === null) return fewFacts({ elements })
  const { variant, widthMm, thicknessMm, lengthMm, mode, note } = row
  return { name, variant, elements: elements ?? row.elements, widthMm, thicknessMm, lengthMm, mode, note }
}

/** `out.svg` for the log `a.csv` becomes `out-a.svg`, for its table `left` `out-a-left.svg`. */
function numbered(path: string, log: string): string {
  const end = extname(path)
  const own = log.replace(/\.[a-z0-9]{1,8}(?= · |$)/i, '').replace(/ · /, '-')
  return `${path.slice(0, path.length - end.length)}-${own.replace(/[^\p{L}\p{N}._-]+/gu, '-')}${end}`
}
