import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { shownUnitOf } from '../../core/units/force.ts'
import type { PublishedStudy } from '../../publish/study/study.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { tell } from '../tell.ts'
import type { ClipTarget, ClipTargets } from './clipTarget.ts'
import { openTargets } from './openTargets.ts'
import type { TargetFlags } from './targetOptions.ts'
import { withStudy } from './withStudy.ts'

/**
 * Opens what the command line names, a study or plain logs, and does the work with it. A study is put together as a
 * report's is, with its names, elements, adjustments and calibration. What stands in the way is told on standard error.
 */
export async function withTargets(
  files: readonly string[],
  flags: TargetFlags,
  io: Io,
  work: (found: ClipTargets) => Promise<ExitCode>,
): Promise<ExitCode> {
  const isStudy = flags.study !== undefined || flags.specimens !== undefined || flags.by !== undefined
  const usage = usageProblem(files, flags, isStudy)
  if (usage !== null) {
    io.err(`tenterhook: ${usage}\n`)
    return EXIT.usage
  }
  if (!isStudy) {
    const opened = await openTargets(files, flags, io)
    return opened.ok ? work({ targets: opened.value, named: true }) : tell(io, opened.problems, EXIT.input)
  }
  const compared = { ...flags, drop: [], worth: null, seed: 1 }
  return withStudy(files, compared, io, async study => {
    const targets = targetsOf(study, flags.only)
    return targets.ok
      ? work({ targets: targets.value, named: flags.only.length > 0 })
      : tell(io, targets.problems, EXIT.input)
  })
}

function usageProblem(
  files: readonly string[],
  { study, only }: TargetFlags,
  isStudy: boolean,
): string | null {
  if (only.length > 0 && !isStudy)
    return '--only chooses among the specimens of a study: give --study, --specimens or --by.'
  if (files.length === 0 && study === undefined)
    return 'nothing to show. Name logs, or a study of the store with --study.'
  return null
}

/** The specimens of a study that have a curve: all, or those with these names. */
function targetsOf(study: PublishedStudy, only: readonly string[]): Outcome<ClipTarget[]> {
  const names = study.specimens.map(one => one.name)
  const listed = names.slice(0, 12).map(name => `“${printable(name, 30)}”`)
  const missing = only.filter(name => !names.includes(name))
  if (missing.length > 0)
    return wrong(
      ...missing.map(name => ({
        where: '--only',
        what: `the study has no specimen “${printable(name)}”.`,
        cure: `Its specimens are ${listed.join(', ')}${names.length > 12 ? ' …' : ''}.`,
      })),
    )
  const wanted = study.specimens.filter(one => only.length === 0 || only.includes(one.name))
  const targets = wanted.flatMap(({ name, recording, reading }) =>
    recording === null || reading === null
      ? []
      : [{ name, recording, reading, unit: shownUnitOf(reading.recording.forceUnit, study.forceUnit) }],
  )
  if (targets.length > 0 && (only.length === 0 || targets.length === wanted.length)) return fine(targets)
  return wrong({
    where: only.length === 0 ? `study “${printable(study.name)}”` : '--only',
    what:
      only.length === 0 ? 'no specimen has a curve yet.' : 'a specimen that is asked for has no curve yet.',
    cure: 'Pull it, or import its log; of files give the logs themselves, not their readings.',
  })
}
