import { basename, extname } from 'node:path'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { type AdjustFlag, openAdjustFlags } from '../adjustFlag.ts'
import { readBytes } from '../files.ts'
import type { Io } from '../io.ts'
import { progress } from '../progress.ts'
import type { Job, JobOptions, OpenedReading } from './readJob.ts'
import { readJobs } from './readJobs.ts'
import type { FactsOf } from './specimenFacts.ts'

export interface OpenOptions extends JobOptions {
  readonly factsOf: FactsOf
  readonly adjust?: readonly AdjustFlag[]
}

/**
 * Readings of logs and reading documents (`.json`, `.jsonl`), with what is known of each. Logs of one specimen, by the
 * table or by `{part}`, make one reading. Every problem of every file is told at once.
 */
export async function openReadings(
  files: readonly string[],
  options: OpenOptions,
  io: Io,
): Promise<Outcome<OpenedReading[]>> {
  const are = await Promise.all(files.map(isDocument))
  const documents = files.filter((_, i) => are[i])
  const logs = files.filter((_, i) => !are[i])
  const jobs = jobsOf(logs, options.factsOf)
  if (!jobs.ok) return jobs
  const adjustments = await openAdjustFlags(
    options.adjust ?? [],
    jobs.value.map(job => job.facts.name),
  )
  if (!adjustments.ok) return adjustments
  const problems: Problem[] = []
  const opened: OpenedReading[] = []
  const shown = progress(io, `reading ${files.length} file${files.length === 1 ? '' : 's'}`)
  for (const file of documents) {
    const found = await readDocuments(file, options.factsOf)
    if (found.ok) opened.push(...found.value)
    else problems.push(...found.problems)
  }
  const { log, rig, keepRecordings } = options
  const adjusted = jobs.value.map((job, i) => ({ ...job, adjustments: adjustments.value[i] ?? [] }))
  const read = await readJobs(adjusted, { log, rig, keepRecordings }, shown.tell)
  for (const found of read) {
    if (found.ok) opened.push(found.value)
    else problems.push(...found.problems)
  }
  shown.end()
  return problems.length > 0 ? { ok: false, problems } : fine(opened)
}

/** Whether a value tells what document it is, as all of Tenterhook's do. */
const isDocumentOf = (value: unknown): boolean =>
  typeof value === 'object' && value !== null && 'document' in value

/** Standard input has no ending that would tell: there a reading says of itself that it is one. */
async function isDocument(file: string): Promise<boolean> {
  if (file !== '-') return ['.json', '.jsonl'].includes(extname(file).toLowerCase())
  const bytes = await readBytes(file)
  return (
    bytes.ok &&
    /^\ufeff?\s*\[?\s*\{\s*"document"/.test(new TextDecoder().decode(bytes.value.subarray(0, 400)))
  )
}

function jobsOf(logs: readonly string[], factsOf: FactsOf): Outcome<Job[]> {
  const jobs: Job[] = []
  const byLabel = new Map<string, Job>()
  const problems: Problem[] = []
  for (const log of logs) {
    const facts = factsOf(log, null, null)
    if (!facts.ok) {
      problems.push(...facts.problems)
      continue
    }
    const key = `${facts.value.group}\n${facts.value.name}`
    const known = byLabel.get(key)
    if (known && facts.value.partOfSeveral) {
      known.logs.push(log)
      continue
    }
    // The same name in two folders is two specimens.
    const job = { facts: known ? { ...facts.value, name: log } : facts.value, logs: [log] }
    jobs.push(job)
    byLabel.set(key, known ?? job)
  }
  return problems.length > 0 ? wrong(...problems.slice(0, 10)) : fine(jobs)
}

/** Reading documents of a file: one, an array of them, or one a line. */
async function readDocuments(file: string, factsOf: FactsOf): Promise<Outcome<OpenedReading[]>> {
  const bytes = await readBytes(file)
  if (!bytes.ok) return bytes
  const parsed = parsedDocuments(new TextDecoder().decode(bytes.value).replace(/^\ufeff/, ''), file)
  if (!parsed.ok) return parsed
  // The schema is loaded only where there is something to check.
  const { storedReadingSchema } = await import('../../core/reading/document.ts')
  const documents = parsed.value
  if (documents.length > 0 && documents.every(({ value }) => !isDocumentOf(value)))
    return wrong({
      where: basename(file),
      what: `it holds JSON, but no reading: it looks like a log (${
        Object.keys(Object(documents[0]!.value))
          .slice(0, 4)
          .map(key => printable(key, 20))
          .join(', ') || 'bare values'
      }).`,
      cure: `Read it first: tenterhook read --json ${printable(file, 80)} > readings.jsonl, and compare that.`,
    })
  const problems: Problem[] = []
  const opened: OpenedReading[] = []
  for (const { value, where } of documents) {
    const checked = storedReadingSchema.safeParse(value)
    if (!checked.success) {
      const issue = checked.error.issues[0]
      problems.push({
        where,
        what: `it is not a reading: ${issue ? `${issue.path.join('.') || 'document'}: ${issue.message}` : 'wrong shape'}.`,
        cure: 'Give what `tenterhook read --json` printed.',
      })
      continue
    }
    const reading = checked.data
    const facts = factsOf(
      reading.recording.name,
      reading.specimen?.variant ?? null,
      reading.specimen?.name ?? null,
    )
    if (facts.ok) opened.push({ reading, facts: facts.value, recording: null, logs: [] })
    else problems.push(...facts.problems)
  }
  return problems.length > 0 ? wrong(...problems.slice(0, 10)) : fine(opened)
}

function parsedDocuments(text: string, file: string): Outcome<{ value: unknown; where: string }[]> {
  const whole = parsedJson(text)
  const name = basename(file)
  if (whole !== undefined)
    return fine(
      (Array.isArray(whole) ? whole : [whole]).map((value: unknown, i) => ({
        value,
        where: Array.isArray(whole) ? `${name}, document ${i + 1}` : name,
      })),
    )
  const lines = text
    .split(/\r?\n/)
    .flatMap((line, i) => (line.trim() === '' ? [] : [{ line, number: i + 1 }]))
  const values = lines.map(({ line, number }) => ({
    value: parsedJson(line),
    where: `${name}, line ${number}`,
  }))
  const broken = values.find(v => v.value === undefined)
  if (broken || values.length === 0) {
    return wrong({
      where: broken?.where ?? name,
      what: values.length === 0 ? 'the file is empty.' : 'it is not JSON.',
      cure: 'Give reading documents, as `tenterhook read --json` prints them.',
    })
  }
  return fine(values)
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
