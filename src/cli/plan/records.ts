import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { measuredOf, type Specimen } from '../../core/statistics/compare/specimen.ts'
import type { PulledValue } from '../../core/statistics/plan/advice.ts'
import type { Scatter } from '../../core/statistics/plan/goals.ts'
import { recordedScatter, recordedScatterText } from '../../core/statistics/plan/scatter.ts'
import { readTable } from '../../logs/index.ts'
import { tableSpecimens } from '../compare/tableSpecimens.ts'
import { readBytes } from '../files.ts'
import type { Amount } from './planInput.ts'

interface Columns {
  readonly group: string | undefined
  readonly value: string | undefined
}

/** Where nothing else is known: bonds and joints of a home bench scatter about so much (common practice, no source). */
const USUAL_CV = 0.1

export interface KnownScatter extends Scatter {
  readonly groups: readonly string[] | null
  /** Nothing but shares of a mean that is not known: the plan is in percent of it. */
  readonly inPercent: boolean
}

/** The scatter as guessed, or as earlier records have it within their groups. */
export async function scatterFrom(
  { records, scatter, mean: expected }: { records?: string; scatter?: Amount; mean?: number },
  columns: Columns,
): Promise<Outcome<KnownScatter>> {
  if (records !== undefined) return scatterOfTable(records, columns, expected ?? null)
  const known = scatter ?? { value: USUAL_CV * 100, percent: true }
  const from = 'guess' as const
  const text = scatter === undefined ? 'nobody said, so 10 % of the mean is taken' : 'as guessed'
  const inPercent = known.percent && expected === undefined
  const sd = known.percent && expected !== undefined ? (known.value / 100) * expected : known.value
  return fine({ mean: expected ?? null, sd, from, text, groups: null, inPercent })
}

async function scatterOfTable(
  path: string,
  columns: Columns,
  expected: number | null,
): Promise<Outcome<KnownScatter>> {
  const found = await specimensOf(path, columns)
  if (!found.ok) return found
  const recorded = recordedScatter(found.value)
  if (recorded === null) {
    return wrong({
      where: path,
      what: 'its values show no scatter within a group.',
      cure: 'Give at least two different values of one group, or guess with --scatter.',
    })
  }
  return fine({
    mean: expected ?? recorded.mean,
    sd: recorded.sd,
    from: 'records',
    text: `of ${recordedScatterText(recorded)} of ${path}`,
    groups: recorded.groups,
    inPercent: false,
  })
}

/** Values pulled so far, by their `order` where the table has it, else row by row. */
export async function soFarFrom(path: string, columns: Columns): Promise<Outcome<PulledValue[]>> {
  const found = await specimensOf(path, columns)
  if (!found.ok) return found
  const measured = [...measuredOf(found.value)]
  if (measured.every(s => s.order !== null)) measured.sort((a, b) => a.order! - b.order!)
  return fine(measured.map(s => ({ variant: s.group, value: s.value! })))
}

async function specimensOf(path: string, { group, value }: Columns): Promise<Outcome<Specimen[]>> {
  const bytes = await readBytes(path)
  if (!bytes.ok) return bytes
  const table = readTable(bytes.value, path)
  if (!table.ok) return table
  const read = tableSpecimens(table.value, {
    ...(group === undefined ? {} : { group }),
    ...(value === undefined ? {} : { value }),
  })
  return read.ok ? fine(read.value.specimens) : read
}
