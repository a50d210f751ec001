import type { Problem } from '../../core/problem.ts'
import { Trouble } from './trouble.ts'

interface Told {
  readonly done?: number
  readonly all?: number
  readonly bytes?: number
  readonly problems?: readonly Problem[]
}

const LINE_END = 10

/**
 * A file that the server makes while it tells how far it is: lines of JSON, the last of them `{ bytes }`, then the file.
 * @throws Trouble where it could not be made, or came cut off
 */
export async function madeFile(
  { body }: Response,
  { type, onProgress }: { readonly type: string; readonly onProgress: (done: number, all: number) => void },
): Promise<Blob> {
  const pieces: Uint8Array<ArrayBuffer>[] = []
  let line: number[] = []
  let bytes: number | null = null
  const reader = body?.getReader()
  for (;;) {
    const { value, done } = (await reader?.read()) ?? { value: undefined, done: true }
    if (done) break
    let from = 0
    while (bytes === null && from < value.length) {
      const end = value.indexOf(LINE_END, from)
      line.push(...value.subarray(from, end < 0 ? value.length : end))
      from = end < 0 ? value.length : end + 1
      if (end < 0) break
      const told = JSON.parse(new TextDecoder().decode(Uint8Array.from(line))) as Told
      line = []
      if (told.problems) throw new Trouble(told.problems)
      if (told.done !== undefined && told.all !== undefined) onProgress(told.done, told.all)
      bytes = told.bytes ?? null
    }
    if (from < value.length) pieces.push(value.slice(from))
  }
  const blob = new Blob(pieces, { type })
  if (bytes === blob.size) return blob
  throw new Trouble([
    {
      where: 'the server',
      what: 'what it made came cut off.',
      cure: 'Try again; look into the terminal of Tenterhook if it comes back.',
    },
  ])
}
