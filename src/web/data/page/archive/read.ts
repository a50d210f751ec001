import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import { printable } from '../../../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../../../core/problem.ts'
import { ARCHIVE_SCHEMA, OLDEST_SCHEMA, type Row } from './rows.ts'

/** The rows of an archive by their table, in order. Nothing of it is trusted: its count and its hash must be right. */
export async function readArchive(file: File): Promise<Outcome<ReadonlyMap<string, readonly Row[]>>> {
  const bad = (what: string) =>
    wrong({
      where: file.name,
      what,
      cure: 'Save it again where it came from, or take another. Nothing here was touched.',
    })
  const hash = sha256.create()
  const text = new TextEncoder()
  const tables = new Map<string, Row[]>()
  let rows = 0
  let isHead = true
  let isOver = false
  try {
    for await (const line of linesOf(file)) {
      if (isOver) return bad('there is more after its end.')
      const value = parsed(line)
      if (value === null) return bad(`line ${rows + 2} is not a line of an archive.`)
      if (isHead) {
        if (value.document !== 'tenterhook.archive' || value.version !== 1)
          return bad('it is not an archive of Tenterhook studies.')
        const schema = Number(value.schema)
        if (!(schema >= OLDEST_SCHEMA && schema <= ARCHIVE_SCHEMA))
          return wrong({
            where: file.name,
            what: `a Tenterhook of another version wrote it (${printable(String(value.schema))}, this page has ${ARCHIVE_SCHEMA}).`,
            cure: 'Use the page and the program of one version: open a newer page, or bring the program up to date and export again.',
          })
        isHead = false
      } else if (typeof value.table !== 'string') {
        if (value.rows !== rows || value.sha256 !== bytesToHex(hash.digest()))
          return bad('it does not match its checksum.')
        isOver = true
        continue
      } else {
        const row = rowOf(value.row)
        if (row === null) return bad(`line ${rows + 2} is no row of the table “${printable(value.table)}”.`)
        const there = tables.get(value.table)
        if (there) there.push(row)
        else tables.set(value.table, [row])
        rows++
      }
      hash.update(text.encode(`${line}\n`))
    }
  } catch {
    return bad('it is damaged, or not an archive.')
  }
  return isOver ? fine(tables) : bad('it is cut short.')
}

async function* linesOf(file: File): AsyncGenerator<string> {
  const reader = file
    .stream()
    .pipeThrough(new DecompressionStream('gzip'))
    .pipeThrough(new TextDecoderStream())
    .getReader()
  let rest = ''
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    const lines = (rest + next.value).split('\n')
    rest = lines.pop() ?? ''
    yield* lines
  }
  if (rest !== '') yield rest
}

function parsed(line: string): Record<string, unknown> | null {
  try {
    const value: unknown = JSON.parse(line)
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : null
  } catch {
    return null
  }
}

function rowOf(value: unknown): Row | null {
  if (typeof value !== 'object' || value === null) return null
  const row: Record<string, string | number | null | Uint8Array> = {}
  for (const [column, cell] of Object.entries(value)) {
    if (cell === null || typeof cell === 'string' || typeof cell === 'number') row[column] = cell
    else if (typeof cell === 'object' && typeof (cell as { base64?: unknown }).base64 === 'string')
      row[column] = Uint8Array.from(atob((cell as { base64: string }).base64), letter => letter.charCodeAt(0))
    else return null
  }
  return row
}
