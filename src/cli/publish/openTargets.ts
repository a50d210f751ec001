import { basename, extname } from 'node:path'
import type { Rig } from '../../core/calibration/rig.ts'
import { fine, type Outcome, type Problem } from '../../core/problem.ts'
import type { ReadingOptions } from '../../core/reading/readRecording.ts'
import { openAdjustFlags } from '../adjustFlag.ts'
import type { Io } from '../io.ts'
import { logOptionsOf } from '../logOptions.ts'
import { progress } from '../progress.ts'
import { shownIn } from '../readingText.ts'
import { readSpecimen } from '../readSpecimen.ts'
import { openRig } from '../rigFile.ts'
import type { ClipTarget } from './clipTarget.ts'
import type { TargetFlags } from './targetOptions.ts'

/** Plain logs, read: each a specimen of its own with the name of its file, or all of them one. */
export async function openTargets(
  files: readonly string[],
  flags: TargetFlags,
  io: Io,
): Promise<Outcome<ClipTarget[]>> {
  const rig = flags.rig === undefined ? fine<Rig | null>(null) : await openRig(flags.rig)
  if (!rig.ok) return rig
  const specimens = flags.specimen ? [files] : files.map(file => [file])
  const names = specimens.map(([first = '']) => basename(first, extname(first)))
  const adjustments = await openAdjustFlags(flags.adjust, names)
  if (!adjustments.ok) return adjustments
  const targets: ClipTarget[] = []
  const problems: Problem[] = []
  for (const [i, paths] of specimens.entries()) {
    const shown = progress(io, `reading ${basename(paths[0] ?? '')}`)
    const read = await readSpecimen(paths, {
      log: logOptionsOf(flags),
      rig: rig.value,
      onProgress: (_path, done, all) => shown.tell(done, all),
      reading: { ...told(flags.elements), adjustments: adjustments.value[i] ?? [] },
    })
    shown.end()
    if (!read.ok) {
      problems.push(...read.problems)
      continue
    }
    const { recording, reading } = read.value
    targets.push({ recording, reading, name: names[i]!, unit: shownIn(reading, flags.show ?? null) })
  }
  return problems.length > 0 ? { ok: false, problems } : fine(targets)
}

/** What the reading is told of a specimen with so many elements. */
const told = (elements: number | undefined): ReadingOptions =>
  elements === undefined
    ? {}
    : {
        elements,
        specimen: {
          name: null,
          variant: null,
          elements,
          widthMm: null,
          thicknessMm: null,
          lengthMm: null,
          mode: null,
          note: null,
        },
      }
