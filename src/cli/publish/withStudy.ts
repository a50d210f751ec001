import { fine, type Outcome } from '../../core/problem.ts'
import { withInitials } from '../../publish/study/initials.ts'
import type { PublishedStudy } from '../../publish/study/study.ts'
import { readBytes } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { withStore } from '../openStore.ts'
import { tell } from '../tell.ts'
import { studyFromFiles } from './studyFromFiles.ts'
import type { StudyFlags } from './studyOptions.ts'

/**
 * Puts together the study that the command line names, from the store or from files, and does the work with it. What
 * stands in the way is told on standard error; the store is open until the work is done.
 */
export async function withStudy(
  files: readonly string[],
  flags: StudyFlags,
  io: Io,
  work: (study: PublishedStudy) => Promise<ExitCode>,
  {
    ofRigAlone = false,
  }: {
    /** A rig is enough: what is made shows nothing else. */
    readonly ofRigAlone?: boolean
  } = {},
): Promise<ExitCode> {
  const usage = usageProblem(files, flags, ofRigAlone)
  if (usage !== null) {
    io.err(`tenterhook: ${usage}\n`)
    return EXIT.usage
  }
  const method = flags.method === undefined ? fine(null) : await textOf(flags.method)
  if (!method.ok) return tell(io, method.problems, EXIT.input)
  const go = async (study: Outcome<PublishedStudy>): Promise<ExitCode> => {
    if (!study.ok) return tell(io, study.problems, EXIT.input)
    const told = method.value === null ? study.value : { ...study.value, method: method.value }
    return work(flags.initials ? withInitials(told) : told)
  }
  const { study } = flags
  if (study === undefined) return go(await studyFromFiles(files, flags, io))
  return withStore(io, flags.store, async store => {
    const { publishedStudy } = await import('../../server/publishedStudy.ts')
    const { quantity, show, block, seed, worth } = flags
    return go(
      await publishedStudy(store, study, {
        seed,
        worthShare: worth,
        ...(quantity === undefined ? {} : { quantity }),
        ...(show === undefined ? {} : { forceUnit: show }),
        ...(isBlock(block) ? { blocksBy: block } : {}),
      }),
    )
  })
}

const BLOCKS = ['day', 'batch', 'operator'] as const
const isBlock = (word: string | undefined): word is (typeof BLOCKS)[number] =>
  BLOCKS.some(block => block === word)

function usageProblem(
  files: readonly string[],
  { study, block, rig }: StudyFlags,
  ofRigAlone: boolean,
): string | null {
  if (study !== undefined && files.length > 0) return 'give either files or --study, not both.'
  if (study === undefined && files.length === 0 && !(ofRigAlone && rig !== undefined))
    return 'no study. Name one of the store with --study, or give logs or readings.'
  if (block !== undefined && !isBlock(block)) return `--block is ${BLOCKS.join(', ')}, not “${block}”.`
  return null
}

async function textOf(path: string): Promise<Outcome<string>> {
  const bytes = await readBytes(path)
  return bytes.ok
    ? fine(
        new TextDecoder()
          .decode(bytes.value)
          .replace(/^\ufeff/, '')
          .trim(),
      )
    : bytes
}
