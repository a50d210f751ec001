import type { Problem } from '../../core/problem.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import { diskProblem } from '../journal/diskProblem.ts'
import type { FileLayer } from '../journal/files.ts'
import type { Line } from './line.ts'

/** Bytes that one sample takes: in the journal, and once more in the store before the journal goes. */
const BYTES_A_SAMPLE = 2 * 64
/** Assumed as long as the line has not shown its own: about as many as a cheap converter sends. */
const USUAL_RATE_HZ = 80
/** No recording begins with less room than this. */
const LEAST_S = 120
/** With less than this it begins, and that is told. */
const SHORT_S = 1_800

/** What is short: why no recording may begin; or what is to be told while it runs. */
interface Room {
  readonly refusal: Problem | null
  readonly warning: Problem | null
}

/**
 * How long the disk has room for a recording. The system's own word on it; where it gives none, none is said.
 * @param rateHz samples a second; `null`: not known yet
 */
export async function roomIn(folder: string, rateHz: number | null, files: FileLayer): Promise<Room> {
  let freeBytes: number | null
  try {
    freeBytes = await files.freeBytes(folder)
  } catch (error) {
    return { refusal: diskProblem(folder, error, files), warning: null }
  }
  if (freeBytes === null) return { refusal: null, warning: null }
  const roomS = freeBytes / (BYTES_A_SAMPLE * (rateHz ?? USUAL_RATE_HZ))
  const what = `${files.words?.name ?? 'the disk'} has room for about ${spanText(roomS)} of recording${rateHz === null ? `, at ${USUAL_RATE_HZ} samples a second` : ''} (${bytesText(freeBytes)} free).`
  const cure = files.words?.roomCure ?? 'Free some space, or choose a store on another disk with --store.'
  if (roomS < LEAST_S) return { refusal: { where: folder, what, cure }, warning: null }
  return { refusal: null, warning: roomS < SHORT_S ? { where: folder, what, cure } : null }
}

/** Before a recording of a line begins. */
export async function roomProblem(line: Line): Promise<Problem | null> {
  const periodS = line.times.periodS
  const { refusal, warning } = await roomIn(
    line.journals,
    periodS === null ? null : 1 / periodS,
    line.computer.files,
  )
  if (warning) line.alarms.raise('little-room', warning, line.nowS())
  else line.alarms.lower('little-room', line.nowS())
  return refusal
}

const TELL_EVERY_S = 10
/** Share of the memory at hand that samples may take: the rest of the computer needs some too. */
const MEMORY_SHARE = 0.5

/** While the disk refuses: how much is in memory alone, and how long that can go on. */
export function tellHeld(line: Line): void {
  const { heldSinceS, recorder } = line
  const standing = recorder?.recorder.journal.trouble ?? null
  if (heldSinceS === null || standing === null || recorder === null) return
  const nowS = line.nowS()
  if (nowS - Math.max(line.heldToldS, heldSinceS) < TELL_EVERY_S) return
  line.heldToldS = nowS
  const { heldBytes } = recorder.recorder.journal
  const forS = nowS - heldSinceS
  const freeBytes = line.computer.freeMemoryBytes()
  const lasts =
    freeBytes === null
      ? ''
      : `; memory lasts for about ${spanText((MEMORY_SHARE * freeBytes) / (heldBytes / forS))} more`
  const what = `${standing.what} The last ${spanText(forS)} (${bytesText(heldBytes)}) are in memory alone${lasts}.`
  line.alarms.renew('not-on-disk', { ...standing, what }, nowS)
}

/** `40 s`, `12 min`, `5.2 h`, `3 days`. */
export function spanText(seconds: number): string {
  if (seconds < 120) return `${Math.floor(seconds)} s`
  if (seconds < 7_200) return `${Math.floor(seconds / 60)} min`
  if (seconds < 172_800) return `${threeDigits(seconds / 3_600)} h`
  return `${Math.floor(seconds / 86_400)} days`
}

/** `812 bytes`, `412 kB`, `3.1 MB`, in powers of ten as disks are sold. */
export function bytesText(bytes: number): string {
  if (bytes < 1_000) return `${bytes} bytes`
  const steps = ['kB', 'MB', 'GB', 'TB']
  const power = Math.min(steps.length, Math.floor(Math.log10(bytes) / 3))
  return `${threeDigits(bytes / 1_000 ** power)} ${steps[power - 1]}`
}
