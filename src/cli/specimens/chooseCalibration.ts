import { calibrationCalled, calibrationKey } from '../../core/calibration/chosen.ts'
import { parseRig, type Rig } from '../../core/calibration/rig.ts'
import { counted } from '../../core/counted.ts'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { sameData } from '../../core/sameData.ts'
import type { RecordingEntry, SpecimenEdit, Store, Rig as StoredRig } from '../../store/index.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { openCalibration } from '../rigFile.ts'
import { tell } from '../tell.ts'
import { edit, inStudy, named, type StudyFlags } from './inStudy.ts'
import { type DayFlags, meantRecordings } from './meantRecordings.ts'

interface CalibrationFlags extends StudyFlags, DayFlags {
  readonly of?: string
  readonly file?: string
  readonly byDay?: true
}

/** Recordings of one rig of the store, and that rig. */
interface OnRig {
  readonly stored: StoredRig
  readonly rig: Rig
  readonly recordings: readonly RecordingEntry[]
}

/**
 * Chooses of a rig with several calibrations the one that counts for recordings that were taken in already, or gives the
 * choice back to their days. Without a choice the calibrations are listed.
 */
export const chooseCalibration = (
  names: readonly string[],
  flags: CalibrationFlags,
  io: Io,
): Promise<ExitCode> =>
  inStudy(flags, io, async open => {
    const chosen = named(open.specimens, names, open.study)
    if (!chosen.ok) return tell(io, chosen.problems, EXIT.input)
    const meant = await meantRecordings(open, chosen.value, flags)
    if (!meant.ok) return tell(io, meant.problems, EXIT.input)
    // Of all, those that have a rig are meant: the others have no calibration to choose.
    const onRigs = meant.value.filter(({ rigId }) => rigId !== null)
    const recordings = names.length === 0 && onRigs.length > 0 ? onRigs : meant.value
    const rigs = await rigsOf(open.store, recordings)
    if (!rigs.ok) return tell(io, rigs.problems, EXIT.input)
    const asked = [flags.of, flags.file, flags.byDay].filter(one => one !== undefined)
    if (asked.length === 0) return list(rigs.value, flags, io)
    if (asked.length > 1)
      return tell(
        io,
        [
          {
            where: 'calibration',
            what: 'more than one choice is given.',
            cure: 'Give --of, --file or --by-day.',
          },
        ],
        EXIT.usage,
      )
    const steps = await stepsOf(open.store, rigs.value, flags)
    if (!steps.ok) return tell(io, steps.problems, EXIT.input)
    return edit(open, steps.value, sentence(recordings.length, steps.value), flags, io)
  })

const sentence = (count: number, steps: readonly SpecimenEdit[]): string => {
  const keys = new Set(
    steps.flatMap(step => (step.kind === 'rig' && step.calibration ? [step.calibration] : [])),
  )
  const recordings = counted(count, 'recording')
  return keys.size === 0
    ? `${recordings} by the calibration of each one’s day`
    : `${recordings} by the calibration ${[...keys].map(key => key.slice(0, 10)).join(', ')}`
}

async function rigsOf(store: Store, recordings: readonly RecordingEntry[]): Promise<Outcome<OnRig[]>> {
  const bare = recordings.filter(({ rigId }) => rigId === null)
  if (bare.length > 0)
    return wrong({
      where: 'calibration',
      what: `of ${bare.length} of these recordings no rig is told (${bare
        .slice(0, 5)
        .map(({ name }) => printable(name, 40))
        .join(', ')}), and a calibration is one of a rig.`,
      cure: 'Say first on which rig they were made: `tenterhook specimen rig`.',
    })
  const found: OnRig[] = []
  for (const rigId of new Set(recordings.map(one => one.rigId ?? ''))) {
    const stored = await store.rigs.get(rigId)
    if (!stored.ok) return stored
    const rig = parseRig(JSON.stringify(stored.value.document), `rig “${stored.value.name}”`)
    if (!rig.ok) return rig
    const own = recordings.filter(one => one.rigId === rigId)
    found.push({ stored: stored.value, rig: rig.value, recordings: own })
  }
  return fine(found)
}

function list(rigs: readonly OnRig[], flags: StudyFlags, io: Io): ExitCode {
  const told = rigs.map(({ stored, rig, recordings }) => ({
    rig: stored.name,
    calibrations: rig.calibrations.map(one => ({
      calibration: calibrationKey(one),
      chosenFor: recordings.filter(({ calibration }) => calibration === calibrationKey(one)).length,
    })),
    byDay: recordings.filter(({ calibration }) => calibration === null).length,
  }))
  if (flags.json) io.out(`${JSON.stringify({ rigs: told })}\n`)
  for (const { rig, calibrations, byDay } of flags.json ? [] : told) {
    io.out(`${printable(rig, 60)}: ${counted(byDay, 'recording')} by the calibration of each one’s day\n`)
    for (const { calibration, chosenFor } of calibrations)
      io.out(`  ${printable(calibration, 200)}${chosenFor > 0 ? `  (chosen for ${chosenFor})` : ''}\n`)
    if (calibrations.length === 0) io.out('  no calibration yet\n')
  }
  return EXIT.ok
}

async function stepsOf(
  store: Store,
  rigs: readonly OnRig[],
  { of, file }: CalibrationFlags,
): Promise<Outcome<SpecimenEdit[]>> {
  const steps: SpecimenEdit[] = []
  for (const one of rigs) {
    const key =
      file !== undefined ? await fromFile(store, one, file) : of === undefined ? fine(null) : keyOf(one, of)
    if (!key.ok) return key
    const { stored, recordings } = one
    steps.push({
      kind: 'rig',
      recordingIds: recordings.map(({ id }) => id),
      rigId: stored.id,
      calibration: key.value,
    })
  }
  return fine(steps)
}

function keyOf({ rig }: OnRig, asked: string): Outcome<string> {
  const calibration = calibrationCalled(rig, asked)
  return calibration.ok ? fine(calibrationKey(calibration.value)) : calibration
}

/** The key of the calibration of a file; where the rig of the store does not have it yet, it is added to it. */
async function fromFile(store: Store, { stored, rig }: OnRig, path: string): Promise<Outcome<string>> {
  const calibration = await openCalibration(path)
  if (!calibration.ok) return calibration
  const key = calibrationKey(calibration.value)
  const own = rig.calibrations.find(one => calibrationKey(one) === key)
  if (own && sameData(own, calibration.value)) return fine(key)
  if (own)
    return wrong({
      where: path,
      what: `${printable(stored.name, 60)} has a calibration of the same day and line that says something else.`,
      cure: 'Give the calibration of the file another day, or choose that of the rig with --of.',
    })
  const document = stored.document as { readonly calibrations?: readonly unknown[] }
  const updated = await store.rigs.update(stored.id, {
    document: { ...document, calibrations: [...(document.calibrations ?? []), calibration.value] },
  })
  return updated.ok ? fine(key) : updated
}
