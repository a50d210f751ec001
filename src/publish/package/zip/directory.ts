import { printable } from '../../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../../core/problem.ts'
import { sameOnAnySystem, unsafePath } from '../safePath.ts'

/** The bytes of a zip, wherever they lie. Reading past the end gives fewer. */
export interface ZipBytes {
  /** For messages. */
  readonly name: string
  readonly size: number
  read(from: number, length: number): Promise<Uint8Array>
}

export interface ZipEntry {
  readonly path: string
  readonly nameBytes: Uint8Array
  readonly method: 0 | 8
  readonly crc: number
  readonly packedBytes: number
  readonly bytes: number
  /** Of its local header. */
  readonly offset: number
}

/** What a zip may come to when it is unpacked. A package of a study is far smaller. */
export interface ZipLimits {
  readonly bytes: number
  readonly entries: number
  /** Unpacked over packed bytes of the whole, asked for from `ratioFromBytes` on. */
  readonly ratio: number
  readonly ratioFromBytes: number
  /**
   * The same of one file, from so many bytes on: a large one among many small ones hides in the ratio of the
   * whole.
   */
  readonly fileRatioFromBytes: number
  /** Of one file: it is unpacked in memory. */
  readonly fileBytes: number
}
export const ZIP_LIMITS: ZipLimits = {
  bytes: 4 * 2 ** 30,
  entries: 20_000,
  ratio: 200,
  ratioFromBytes: 256 * 2 ** 20,
  fileRatioFromBytes: 64 * 2 ** 20,
  fileBytes: 2 ** 30,
}

/** Deflate packs no more than 1032 bytes into one (RFC 1951: 258 bytes for two bits). */
const MOST_DEFLATE_RATIO = 1032

// Signatures and lengths of PKWARE's APPNOTE.TXT, 4.3.7, 4.3.12 and 4.3.16.
const END_SIGNATURE = 0x06_05_4b_50
const END_BYTES = 22
const MOST_COMMENT_BYTES = 0xff_ff
const ENTRY_SIGNATURE = 0x02_01_4b_50
const ENTRY_BYTES = 46
const MOST_DIRECTORY_BYTES = 64 * 2 ** 20

const ENCRYPTED = 0x0001 | 0x0040 | 0x2000
const UNIX = 3
const KIND_MASK = 0xf000
const KINDS: ReadonlyMap<number, string> = new Map([
  [0xa000, 'a symbolic link'],
  [0x2000, 'a device'],
  [0x6000, 'a device'],
  [0x1000, 'a pipe'],
  [0xc000, 'a socket'],
])
/** What desktops leave in a zip that they packed. */
const RESIDUE = /^__MACOSX\/|(?:^|\/)(?:\.DS_Store|Thumbs\.db|desktop\.ini)$/

const UNPACK_CURE =
  'If you trust where it comes from, unpack it with a program of your own and name the folder instead.'

/**
 * The entries of a zip, each proved harmless before a byte of it is unpacked: paths that stay inside, no
 * entry twice, none that lies over another, no links, nothing encrypted, no more bytes than the limits.
 * Folders are left out.
 */
export async function zipDirectory(
  zip: ZipBytes,
  limits: ZipLimits = ZIP_LIMITS,
): Promise<Outcome<readonly ZipEntry[]>> {
  const end = await endRecord(zip)
  if (!end.ok) return end
  const { count, from, length } = end.value
  if (count > limits.entries)
    return refused(zip, `it holds ${count} entries, more than ${limits.entries}.`, UNPACK_CURE)
  const bytes = await zip.read(from, length)
  const problems: Problem[] = []
  const entries: ZipEntry[] = []
  const view = viewOf(bytes)
  let at = 0
  for (let i = 0; i < count; i++) {
    if (at + ENTRY_BYTES > bytes.length || view.getUint32(at, true) !== ENTRY_SIGNATURE)
      return refused(zip, `its list of files breaks off at entry ${i + 1} of ${count}.`, DAMAGED_CURE)
    const entry = entryAt(bytes, view, at)
    at += ENTRY_BYTES + entry.restBytes
    if (at > bytes.length)
      return refused(zip, `its list of files breaks off at entry ${i + 1} of ${count}.`, DAMAGED_CURE)
    const what = entry.fault
    if (what !== null)
      problems.push({ where: `${zip.name}, ${printable(entry.path, 80)}`, what, cure: UNPACK_CURE })
    else if (!entry.path.endsWith('/') && !RESIDUE.test(entry.path)) entries.push(entry)
  }
  problems.push(...together(zip, entries, from, limits))
  return problems.length > 0 ? wrong(...problems.slice(0, 20)) : fine(entries)
}

const DAMAGED_CURE = 'It is damaged or was cut off on the way: fetch it again.'

const refused = (zip: ZipBytes, what: string, cure: string) => wrong({ where: zip.name, what, cure })

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.length)

async function endRecord(zip: ZipBytes): Promise<Outcome<{ count: number; from: number; length: number }>> {
  const tailFrom = Math.max(0, zip.size - END_BYTES - MOST_COMMENT_BYTES)
  const tail = await zip.read(tailFrom, zip.size - tailFrom)
  const view = viewOf(tail)
  for (let at = tail.length - END_BYTES; at >= 0; at--) {
    if (view.getUint32(at, true) !== END_SIGNATURE) continue
    if (at + END_BYTES + view.getUint16(at + 20, true) !== tail.length) continue
    const count = view.getUint16(at + 10, true)
    const length = view.getUint32(at + 12, true)
    const from = view.getUint32(at + 16, true)
    if (view.getUint16(at + 4, true) !== 0 || view.getUint16(at + 8, true) !== count)
      return refused(zip, 'it is one part of a zip in several.', 'Give the whole.')
    if (count === 0xff_ff || length === 0xff_ff_ff_ff || from === 0xff_ff_ff_ff)
      return refused(zip, 'it is in the 64-bit form, which is not read.', UNPACK_CURE)
    if (length > MOST_DIRECTORY_BYTES || from + length > tailFrom + at)
      return refused(zip, 'its list of files does not fit into it.', DAMAGED_CURE)
    return fine({ count, from, length })
  }
  return refused(zip, 'it is no zip, or its end is missing.', DAMAGED_CURE)
}

interface FoundEntry extends ZipEntry {
  /** Bytes of name, fields and comment after the fixed part. */
  readonly restBytes: number
  readonly fault: string | null
}

function entryAt(bytes: Uint8Array, view: DataView, at: number): FoundEntry {
  const flags = view.getUint16(at + 8, true)
  const method = view.getUint16(at + 10, true)
  const nameLength = view.getUint16(at + 28, true)
  const nameBytes = bytes.subarray(at + ENTRY_BYTES, at + ENTRY_BYTES + nameLength)
  const path = textOf(nameBytes)
  const entry: ZipEntry = {
    path: path ?? new TextDecoder('latin1').decode(nameBytes),
    nameBytes,
    method: method === 0 ? 0 : 8,
    crc: view.getUint32(at + 16, true),
    packedBytes: view.getUint32(at + 20, true),
    bytes: view.getUint32(at + 24, true),
    offset: view.getUint32(at + 42, true),
  }
  const restBytes = nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true)
  const mode = view.getUint8(at + 5) === UNIX ? view.getUint16(at + 40, true) & KIND_MASK : 0
  return { ...entry, restBytes, fault: faultOf(entry, { flags, method, mode, readable: path !== null }) }
}

function textOf(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
  } catch {
    return null
  }
}

function faultOf(
  { path, packedBytes, bytes }: ZipEntry,
  found: { flags: number; method: number; mode: number; readable: boolean },
): string | null {
  if (!found.readable) return 'its name is not UTF-8.'
  const unsafe = unsafePath(path.replace(/\/$/, ''))
  if (unsafe !== null) return `the path ${unsafe}.`
  if ((found.flags & ENCRYPTED) !== 0) return 'it is encrypted.'
  if (found.method !== 0 && found.method !== 8)
    return `it is packed by method ${found.method}; only stored and deflated files are read.`
  const kind = KINDS.get(found.mode)
  if (kind !== undefined) return `it is ${kind}, not a file.`
  if (found.method === 0 && packedBytes !== bytes) return 'its two sizes contradict each other.'
  if (bytes > MOST_DEFLATE_RATIO * packedBytes + 64) return 'it claims more bytes than it can hold.'
  return null
}

/** What only shows over all entries. */
function together(
  zip: ZipBytes,
  entries: readonly ZipEntry[],
  directoryFrom: number,
  limits: ZipLimits,
): Problem[] {
  const problems: Problem[] = []
  const problem = (path: string, what: string, cure = UNPACK_CURE) =>
    problems.push({ where: path === '' ? zip.name : `${zip.name}, ${printable(path, 80)}`, what, cure })
  const seen = new Set<string>()
  const folders = new Set<string>()
  for (const { path } of entries) {
    const same = sameOnAnySystem(path)
    if (seen.has(same))
      problem(path, 'it is there twice, or under a name that some systems take for the same.')
    seen.add(same)
    const parts = same.split('/')
    for (let n = 1; n < parts.length; n++) folders.add(parts.slice(0, n).join('/'))
  }
  for (const { path } of entries)
    if (folders.has(sameOnAnySystem(path))) problem(path, 'it is a file and a folder at once.')
  for (const { path, what } of tooMuch(entries, zip.size, limits, 'unpacks to')) problem(path, what)
  let endBefore = 0
  for (const { path, offset, packedBytes, nameBytes } of entries.toSorted((a, b) => a.offset - b.offset)) {
    if (offset < endBefore) problem(path, 'it lies over another file of the zip.')
    endBefore = offset + 30 + nameBytes.length + packedBytes
    if (endBefore > directoryFrom) problem(path, 'it reaches past the end of the files.', DAMAGED_CURE)
  }
  return problems
}

/**
 * Files that come to more than there is room and memory for, or to so many times the bytes that they take
 * that they are made to fill a disk; `path` is '' for all of them together. Of a folder, what a file takes is
 * less where it has holes.
 */
export function tooMuch(
  files: readonly { readonly path: string; readonly bytes: number; readonly packedBytes: number }[],
  packedBytes: number,
  limits: ZipLimits,
  comesTo: 'unpacks to' | 'comes to',
): { readonly path: string; readonly what: string }[] {
  const found: { path: string; what: string }[] = []
  const total = files.reduce((sum, file) => sum + file.bytes, 0)
  const times = (bytes: number, packed: number): number => Math.round(bytes / Math.max(1, packed))
  if (total > limits.bytes)
    found.push({ path: '', what: `it ${comesTo} ${gib(total)} GiB, more than ${gib(limits.bytes)} GiB.` })
  else if (total > limits.ratioFromBytes && total > limits.ratio * packedBytes)
    found.push({
      path: '',
      what: `it ${comesTo} ${times(total, packedBytes)} times its size, as one made to fill a disk does.`,
    })
  for (const { path, bytes, packedBytes: packed } of files) {
    if (bytes > limits.fileBytes)
      found.push({
        path,
        what: `it ${comesTo} ${gib(bytes)} GiB, more than the ${gib(limits.fileBytes)} GiB that there is memory for.`,
      })
    else if (bytes > limits.fileRatioFromBytes && bytes > limits.ratio * packed)
      found.push({
        path,
        what: `it ${comesTo} ${times(bytes, packed)} times its size, as a file made to fill a disk does.`,
      })
  }
  return found
}

const gib = (bytes: number): string => (bytes / 2 ** 30).toFixed(1)
