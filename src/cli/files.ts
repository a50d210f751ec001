import { createReadStream, createWriteStream, existsSync, rmSync } from 'node:fs'
import { mkdtemp, readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { basename, dirname, join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { fileProblem } from '../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Io } from './io.ts'

export { fileProblem } from '../core/fileProblem.ts'

/** The bytes of a file, or of standard input where the path is `-`. */
export async function readBytes(path: string): Promise<Outcome<Uint8Array>> {
  try {
    return fine(await readFile(await pathOfInput(path)))
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

/** The bytes of a file that is no longer than so many; `null` of a longer one, and of what is no file. */
export async function bytesOfShort(path: string, mostBytes: number): Promise<Uint8Array | null> {
  try {
    const there = await pathOfInput(path)
    return (await stat(there)).size > mostBytes ? null : await readFile(there)
  } catch {
    return null
  }
}

/** What a file is called in what is said of it. */
export const nameOfInput = (path: string): string => (path === '-' ? 'standard input' : basename(path))

const spooled = new WeakMap<object, Promise<string>>()

/**
 * A path to open: `-` is standard input, which is put into a file first. It comes but once, and is asked for again by what
 * looks at a file twice, stops half-way, or goes to its end first, as a zip is read; that file goes when the program ends.
 */
export const pathOfInput = (path: string): string | Promise<string> => (path === '-' ? spooledInput() : path)

function spooledInput(): Promise<string> {
  const { stdin } = process
  const known = spooled.get(stdin) ?? spool(stdin)
  spooled.set(stdin, known)
  return known
}

async function spool(input: NodeJS.ReadableStream): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-input-'))
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }))
  const path = join(folder, 'input')
  await pipeline(input, createWriteStream(path, { mode: 0o600 }))
  return path
}

/** What else is said where a file goes to standard output: on standard error, so that the output is the file alone. */
export const besideOutput = <T extends Pick<Io, 'out' | 'err'>>(path: string | undefined, io: T): T =>
  path === '-' ? { ...io, out: io.err } : io

/**
 * Has a file written that must be one while it is: for `-` one of its own, in a folder that goes afterwards, which is then
 * put to standard output.
 */
export async function throughOutput<T>(
  path: string,
  ending: string,
  write: (path: string) => Promise<T>,
): Promise<T> {
  if (path !== '-') return write(path)
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-output-'))
  try {
    const made = join(folder, `output${ending}`)
    const result = await write(made)
    if (existsSync(made)) await pipeline(createReadStream(made), process.stdout, { end: false })
    return result
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/** Writes beside the file and renames, so that an old file is whole until the new one is; `-` is standard output. */
export async function writeWhole(path: string, content: string | Uint8Array): Promise<Outcome<string>> {
  if (path === '-') {
    await new Promise<void>(done => process.stdout.write(content, () => done()))
    return fine('standard output')
  }
  // A terminal, a pipe or another device is written to, never replaced.
  const there = await stat(path).catch(() => null)
  if (there && !there.isFile() && !there.isDirectory()) {
    await writeFile(path, content)
    return fine(path)
  }
  const half = join(dirname(path), `.${process.pid}-${Date.now().toString(36)}.part`)
  try {
    await writeFile(half, content)
    await rename(half, path)
    return fine(path)
  } catch (error) {
    await rm(half, { force: true })
    return wrong(fileProblem(path, error, 'writing'))
  }
}
