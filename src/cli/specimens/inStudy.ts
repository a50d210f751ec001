import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import { isTyped } from '../../core/reading/typedReading.ts'
import type { Edited } from '../../server/editSpecimens.ts'
import type { Specimen, SpecimenEdit, Store, Study } from '../../store/index.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { withTidyStore } from '../openStore.ts'
import { shownIn } from '../readingText.ts'
import { tell } from '../tell.ts'

export interface StudyFlags {
  readonly study: string
  readonly who: string
  readonly store?: string
  readonly json?: true
}

/** The study that is worked on, in an open store. */
export interface InStudy {
  readonly store: Store
  readonly study: Study
  readonly specimens: readonly Specimen[]
}

/** `makesNew`: a study of this name is made where the store has none. */
export const inStudy = (
  flags: StudyFlags,
  io: Io,
  work: (open: InStudy) => Promise<ExitCode>,
  { makesNew = false } = {},
): Promise<ExitCode> =>
  withTidyStore(io, flags.store, async store => {
    const { studyOf } = await import('../../server/publishedStudy.ts')
    const known = await studyOf(store, flags.study)
    const study = known.ok || !makesNew ? known : await store.studies.create({ name: flags.study })
    if (!study.ok) return tell(io, study.problems, EXIT.input)
    if (!known.ok) io.err(`A new study “${printable(study.value.name)}”.\n`)
    return work({ store, study: study.value, specimens: await store.specimens.list(study.value.id) })
  })

/** The specimens of these names, or every name that is none. */
export function named(
  specimens: readonly Specimen[],
  names: readonly string[],
  of: Pick<Study, 'name'>,
): Outcome<Specimen[]> {
  const problems: Problem[] = []
  const found = names.flatMap(name => {
    const one = specimens.find(specimen => specimen.name === name)
    if (one) return [one]
    const known = specimens.slice(0, 12).map(specimen => `“${printable(specimen.name, 30)}”`)
    problems.push({
      where: `specimen “${printable(name)}”`,
      what: `the study “${printable(of.name)}” has none of this name.`,
      cure:
        known.length > 0
          ? `It has ${known.join(', ')}${specimens.length > 12 ? ' …' : ''}.`
          : 'It has none yet.',
    })
    return []
  })
  return problems.length > 0 ? wrong(...problems) : fine(found)
}

/** Changes the study, and tells what came of it. */
export async function edit(
  { store, study }: InStudy,
  steps: readonly SpecimenEdit[],
  what: string,
  flags: StudyFlags,
  io: Io,
): Promise<ExitCode> {
  const { editSpecimens } = await import('../../server/editSpecimens.ts')
  const edited = await editSpecimens(store, study.id, steps, { who: flags.who, what })
  return edited.ok ? tellEdited(edited.value, flags, io) : tell(io, edited.problems, EXIT.input)
}

/** What was changed, and every figure that is another by it, before and after. */
export function tellEdited({ edit, reread, problems }: Edited, flags: StudyFlags, io: Io): ExitCode {
  if (flags.json) io.out(`${JSON.stringify({ edit, reread })}\n`)
  else {
    if (edit === null) io.out('Nothing came to change.\n')
    else
      io.out(
        `${printable(edit.what, 300)}${edit.takenBackAt === null ? '' : ': taken back'}  (change ${edit.id})\n`,
      )
    for (const { specimen, before, after } of reread) {
      const [was, is] = [before, after].map(one =>
        one === null ? 'not read' : peakWords(one.results.peakForce, shownIn(one, null)),
      )
      const typed = after !== null && isTyped(after) ? ', typed' : ''
      io.out(
        `  ${printable(specimen, 40)}: ${before === null ? is : was === is ? `${is}, as before` : `${was} → ${is}`}${typed}\n`,
      )
    }
  }
  return problems.length > 0 ? tell(io, problems, EXIT.ok) : EXIT.ok
}
