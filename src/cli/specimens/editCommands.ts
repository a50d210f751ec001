import { counted } from '../../core/counted.ts'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Edit, SpecimenEdit } from '../../store/index.ts'
import { commandWord } from '../commandWord.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { keepRigFile } from '../rigFile.ts'
import { tell } from '../tell.ts'
import { cellChanges } from './cells.ts'
import { edit, type InStudy, inStudy, named, type StudyFlags, tellEdited } from './inStudy.ts'
import { type DayFlags, meantRecordings } from './meantRecordings.ts'
import { openTable } from './openTable.ts'

const quoted = (names: readonly string[]): string =>
  `${names
    .slice(0, 5)
    .map(name => `“${name}”`)
    .join(', ')}${names.length > 5 ? ` and ${names.length - 5} more` : ''}`

export const list = (flags: StudyFlags, io: Io): Promise<ExitCode> =>
  inStudy(flags, io, async ({ store, study, specimens }) => {
    const variants = await store.variants.list(study.id)
    const removed = await store.specimens.removed(study.id)
    const variantOf = (id: string | null) => variants.find(one => one.id === id)?.name ?? null
    if (flags.json) {
      const told = (all: typeof specimens) =>
        all.map(({ variantId, ...one }) => ({ ...one, variant: variantOf(variantId) }))
      io.out(`${JSON.stringify({ specimens: told(specimens), removed: told(removed) })}\n`)
      return EXIT.ok
    }
    const line = (name: string, rest: string) => io.out(`${printable(name, 40).padEnd(24)}  ${rest}\n`)
    for (const one of specimens)
      line(one.name, `${printable(variantOf(one.variantId) ?? 'not assigned', 40)}, ${one.status}`)
    for (const one of removed) line(one.name, 'removed')
    const loose = specimens.filter(({ variantId }) => variantId === null)
    if (loose.length > 0)
      io.out(
        `${loose.length} not assigned, and so in no figure. Assign ${loose.length === 1 ? 'it' : 'them'} with: tenterhook specimen move --study ${commandWord(study.name)} --to VARIANT ${loose.map(({ name }) => commandWord(name)).join(' ')}\n`,
      )
    return EXIT.ok
  })

export const rename = (old: string, name: string, flags: StudyFlags, io: Io): Promise<ExitCode> =>
  withNamed([old], flags, io, open =>
    fine({
      steps: open.chosen.map(({ id }) => ({ kind: 'change', specimenId: id, fields: { name } }) as const),
      what: `“${old}” is now “${name}”`,
    }),
  )

export const move = (
  names: readonly string[],
  flags: StudyFlags & { readonly to: string },
  io: Io,
): Promise<ExitCode> => {
  const variant = flags.to === '-' ? null : flags.to
  return withNamed(names, flags, io, open =>
    fine({
      steps: open.chosen.map(({ id }) => ({ kind: 'to-variant', specimenId: id, variant }) as const),
      what: `${quoted(names)} ${variant === null ? 'not assigned' : `to “${variant}”`}`,
    }),
  )
}

export const merge = (names: readonly string[], flags: StudyFlags, io: Io): Promise<ExitCode> =>
  withNamed(names, flags, io, ({ chosen: [first, ...others] }) =>
    first === undefined || others.length === 0
      ? wrong({ where: 'merge', what: 'one specimen alone is one already.', cure: 'Name two or more.' })
      : fine({
          steps: [{ kind: 'merge', specimenId: first.id, others: others.map(({ id }) => id) }],
          what: `${quoted(names)} made one`,
        }),
  )

export const remove = (names: readonly string[], flags: StudyFlags, io: Io): Promise<ExitCode> =>
  withNamed(names, flags, io, open =>
    fine({
      steps: open.chosen.map(({ id }) => ({ kind: 'remove', specimenId: id }) as const),
      what: `${quoted(names)} removed`,
    }),
  )

export const bringBack = (names: readonly string[], flags: StudyFlags, io: Io): Promise<ExitCode> =>
  inStudy(flags, io, async open => {
    const chosen = named(await open.store.specimens.removed(open.study.id), names, open.study)
    if (!chosen.ok) return tell(io, chosen.problems, EXIT.input)
    const steps = chosen.value.map(({ id }) => ({ kind: 'bring-back', specimenId: id }) as const)
    return edit(open, steps, `${quoted(names)} brought back`, flags, io)
  })

export const split = (
  name: string,
  recordings: readonly string[],
  flags: StudyFlags & { readonly as: string },
  io: Io,
): Promise<ExitCode> =>
  withNamed([name], flags, io, async ({ store, chosen: [specimen] }) => {
    const { items } = await store.recordings.list({ specimenId: specimen!.id, limit: 1000 })
    const gone = recordings.map(asked => items.find(({ id, name }) => id.startsWith(asked) || name === asked))
    if (gone.some(one => one === undefined))
      return wrong({
        where: `specimen “${name}”`,
        what: 'it has no recording of one of these names.',
        cure: `Its recordings are ${items.map(one => `${one.id} (${printable(one.name, 40)})`).join(', ')}.`,
      })
    const recordingIds = gone.flatMap(one => (one ? [one.id] : []))
    return fine({
      steps: [{ kind: 'split', specimenId: specimen!.id, recordingIds, name: flags.as }],
      what: `“${flags.as}” split from “${name}”`,
    })
  })

export const setCells = (path: string, flags: StudyFlags, io: Io): Promise<ExitCode> =>
  inStudy(flags, io, async open => {
    const table = await openTable(path)
    if (!table.ok) return tell(io, table.problems, EXIT.input)
    const steps = cellChanges(table.value, open.specimens, open.study)
    if (!steps.ok) return tell(io, steps.problems, EXIT.input)
    return edit(open, steps.value, `cells of ${counted(table.value.rows.length, 'specimen')}`, flags, io)
  })

interface RigFlags extends StudyFlags, DayFlags {
  readonly rig?: string
  readonly none?: true
}

export const assignRig = (names: readonly string[], flags: RigFlags, io: Io): Promise<ExitCode> =>
  withNamed(names, flags, io, async ({ store, study, specimens, chosen }) => {
    if ((flags.rig === undefined) === (flags.none === undefined))
      return wrong({ where: 'rig', what: 'which rig is not said.', cure: 'Give --rig FILE, or --none.' })
    const recordings = await meantRecordings({ store, study, specimens }, chosen, flags)
    if (!recordings.ok) return recordings
    const rig = flags.rig === undefined ? fine(null) : await keepRigFile(store, flags.rig)
    if (!rig.ok) return rig
    const recordingIds = recordings.value.map(({ id }) => id)
    return fine({
      steps: [{ kind: 'rig', recordingIds, rigId: rig.value?.id ?? null }],
      what: `${counted(recordingIds.length, 'recording')} ${rig.value === null ? 'without a rig' : `made on “${rig.value.name}”`}`,
    })
  })

export const changes = (flags: StudyFlags, io: Io): Promise<ExitCode> =>
  inStudy(flags, io, async ({ store, study }) => {
    const edits = await store.edits.list(study.id)
    if (flags.json) io.out(`${JSON.stringify({ changes: edits })}\n`)
    else if (edits.length === 0) io.out('Nothing was changed yet.\n')
    for (const one of flags.json ? [] : edits)
      io.out(
        `${one.id}  ${one.madeAt.slice(0, 16).replace('T', ' ')}  ${printable(one.who || 'not told', 30)}: ${printable(one.what, 200)}${one.takenBackAt === null ? '' : '  (taken back)'}\n`,
      )
    return EXIT.ok
  })

export const turn = (
  asked: string | undefined,
  way: 'back' | 'again',
  flags: StudyFlags,
  io: Io,
): Promise<ExitCode> =>
  inStudy(flags, io, async ({ store, study }) => {
    const edits = await store.edits.list(study.id)
    const chosen = chosenEdit(edits, asked, way)
    if (!chosen.ok) return tell(io, chosen.problems, EXIT.input)
    const { turnEdit } = await import('../../server/editSpecimens.ts')
    const turned = await turnEdit(store, chosen.value, way)
    return turned.ok ? tellEdited(turned.value, flags, io) : tell(io, turned.problems, EXIT.input)
  })

function chosenEdit(edits: readonly Edit[], asked: string | undefined, way: 'back' | 'again'): Outcome<Edit> {
  const fitting = edits.filter(({ takenBackAt }) => (takenBackAt === null) === (way === 'back'))
  const found =
    asked !== undefined
      ? edits.find(({ id }) => id.startsWith(asked))
      : way === 'back'
        ? fitting[0]
        : fitting.toSorted((a, b) => ((a.takenBackAt ?? '') < (b.takenBackAt ?? '') ? 1 : -1))[0]
  return found
    ? fine(found)
    : wrong({
        where: asked ?? 'changes',
        what:
          way === 'back'
            ? 'there is no such change that holds.'
            : 'there is no such change that was taken back.',
        cure: 'See `tenterhook specimen changes`.',
      })
}

type Planned = Outcome<{ readonly steps: readonly SpecimenEdit[]; readonly what: string }>

/** Finds the specimens of these names, plans the change with them and makes it. */
const withNamed = (
  names: readonly string[],
  flags: StudyFlags,
  io: Io,
  plan: (open: InStudy & { readonly chosen: InStudy['specimens'] }) => Planned | Promise<Planned>,
): Promise<ExitCode> =>
  inStudy(flags, io, async open => {
    const chosen = named(open.specimens, names, open.study)
    if (!chosen.ok) return tell(io, chosen.problems, EXIT.input)
    const planned = await plan({ ...open, chosen: chosen.value })
    if (!planned.ok) return tell(io, planned.problems, EXIT.input)
    return edit(open, planned.value.steps, planned.value.what, flags, io)
  })
