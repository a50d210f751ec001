import { open, readFile } from 'node:fs/promises'
import { basename } from 'node:path'
import type { Check } from '../core/calibration/checkDocument.ts'
import type { Rig, RigCalibration } from '../core/calibration/rig.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Store } from '../store/index.ts'
import { fileProblem, readBytes, writeWhole } from './files.ts'

const NEWLINE = 10

const asText = (bytes: Uint8Array): string => new TextDecoder().decode(bytes)

/** The rig of a file, checked against its schema. */
export async function openRig(path: string): Promise<Outcome<Rig>> {
  const bytes = await readBytes(path)
  if (!bytes.ok) return bytes
  // The schema is loaded only where there is something to check.
  const { parseRig } = await import('../core/calibration/rig.ts')
  return parseRig(asText(bytes.value), path)
}

/** The calibration of a file: as `calibrate --json` prints it, or a quick scale. It must tell its day. */
export async function openCalibration(path: string): Promise<Outcome<RigCalibration>> {
  const bytes = await readBytes(path)
  if (!bytes.ok) return bytes
  const { parseCalibration } = await import('../core/calibration/rig.ts')
  return parseCalibration(asText(bytes.value), path === '-' ? 'standard input' : path)
}

/** Adds a calibration to a rig file, which is begun where there is none. All else in the file stays as it is. */
export async function saveCalibration(path: string, calibration: RigCalibration): Promise<Outcome<string>> {
  return changeRig(path, rig => ({
    ...rig,
    calibrations: [...(Array.isArray(rig.calibrations) ? rig.calibrations : []), calibration],
  }))
}

/** Rewrites a rig file beside itself and renames, once what comes out keeps to the schema. */
export async function changeRig(
  path: string,
  change: (rig: Record<string, unknown>) => Record<string, unknown>,
): Promise<Outcome<string>> {
  const there = await openRaw(path)
  if (!there.ok) return there
  const text = `${JSON.stringify(change(there.value), null, 2)}\n`
  const { parseRig } = await import('../core/calibration/rig.ts')
  const checked = parseRig(text, path)
  return checked.ok ? writeWhole(path, text) : checked
}

async function openRaw(path: string): Promise<Outcome<Record<string, unknown>>> {
  try {
    const text = await readFile(path, 'utf8')
    const { parseRig } = await import('../core/calibration/rig.ts')
    const rig = parseRig(text, path)
    return rig.ok ? fine(JSON.parse(text)) : rig
  } catch (error) {
    if ((error as NodeJS.ErrnoException | null)?.code === 'ENOENT')
      return fine({ document: 'tenterhook.rig', version: 1, name: basename(path).replace(/\.json$/i, '') })
    return wrong(fileProblem(path, error))
  }
}

/** Where a rig's daily checks are kept: beside it, one a line. */
export const checksPathOf = (rigPath: string): string => `${rigPath.replace(/\.json$/i, '')}.checks.jsonl`

/** Keeps the rig of a file in the store, with the daily checks beside it; its id there. */
export async function keepRigFile(store: Store, path: string): Promise<Outcome<KeptRig>> {
  const [rig, beside] = await Promise.all([openRig(path), openChecks(checksPathOf(path))])
  if (!rig.ok) return rig
  if (!beside.ok) return beside
  const { keepRig } = await import('../server/desk/keepRig.ts')
  const rigId = await keepRig(store, rig.value)
  if (!rigId.ok) return rigId
  const { keepChecks } = await import('../server/keepChecks.ts')
  const checks = await keepChecks(store, rigId.value, beside.value.checks)
  return checks.ok ? fine({ id: rigId.value, name: rig.value.name }) : checks
}

export interface KeptRig {
  readonly id: string
  readonly name: string
}

export interface OpenChecks {
  readonly checks: readonly Check[]
  /** A last line that a power loss cut short. */
  readonly cut: boolean
}

/** The checks of a file; none where there is no file yet. */
export async function openChecks(path: string): Promise<Outcome<OpenChecks>> {
  try {
    const text = await readFile(path, 'utf8')
    const { parseChecks } = await import('../core/calibration/checkDocument.ts')
    return parseChecks(text, path)
  } catch (error) {
    if ((error as NodeJS.ErrnoException | null)?.code === 'ENOENT') return fine({ checks: [], cut: false })
    return wrong(fileProblem(path, error))
  }
}

/** Adds a line and waits until it is on the disk. What is there is never rewritten, but for a cut last line, set aside as a remark. */
export async function addCheck(path: string, check: Check, cut: boolean): Promise<Outcome<string>> {
  const entry = `${JSON.stringify(check)}\n`
  try {
    if (cut) {
      const text = await readFile(path, 'utf8')
      const start = text.lastIndexOf('\n') + 1
      return writeWhole(path, `${text.slice(0, start)}# cut short: ${text.slice(start)}\n${entry}`)
    }
    const file = await open(path, 'a+')
    try {
      const { size } = await file.stat()
      const { buffer } = await file.read(Buffer.alloc(1), 0, 1, Math.max(0, size - 1))
      const ended = size === 0 || buffer[0] === NEWLINE
      await file.writeFile(ended ? entry : `\n${entry}`)
      await file.datasync()
    } finally {
      await file.close()
    }
    return fine(path)
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}
