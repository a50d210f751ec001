import { extname } from 'node:path'
import type { Rig } from '../../core/calibration/rig.ts'
import { fine, type Outcome, type Problem } from '../../core/problem.ts'
import { fewFacts } from '../../logs/index.ts'
import { openAdjustFlags } from '../adjustFlag.ts'
import { nameOfInput } from '../files.ts'
import type { Io } from '../io.ts'
import { logOptionsOf } from '../logOptions.ts'
import { progress } from '../progress.ts'
import { readFiles } from '../readFiles.ts'
import { shownIn } from '../readingText.ts'
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
  const names = specimens.map(([first = '']) =>
    nameOfInput(first).slice(0, -extname(first).length || undefined),
  )
  const adjustments = await openAdjustFlags(flags.adjust, names)
  if (!adjustments.ok) return adjustments
  const targets: ClipTarget[] = []
  const problems: Problem[] = []
  for (const [i, paths] of specimens.entries()) {
    const shown = progress(io, `reading ${nameOfInput(paths[0] ?? '')}`)
    const read = await readFiles(paths, {
      log: logOptionsOf(flags),
      rig: rig.value,
      onProgress: (_path, done, all) => shown.tell(done, all),
      facts: fewFacts({ elements: flags.elements ?? null }),
      adjustments: adjustments.value[i] ?? [],
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
