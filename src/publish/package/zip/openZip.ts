import { inflateSync } from 'fflate'
import { crc32 } from '../../../core/crc32.ts'
import { fine, type Outcome, wrong } from '../../../core/problem.ts'
import type { PackageSource } from '../files.ts'
import { type ZipBytes, type ZipEntry, type ZipLimits, zipDirectory } from './directory.ts'

const LOCAL_SIGNATURE = 0x04_03_4b_50
const LOCAL_BYTES = 30

/**
 * A zip as a package to be read from; each file is unpacked when it is asked for, no further than it claims
 * to reach.
 */
export async function openZip(zip: ZipBytes, limits?: ZipLimits): Promise<Outcome<PackageSource>> {
  const entries = await zipDirectory(zip, limits)
  if (!entries.ok) return entries
  const byPath = new Map(entries.value.map(entry => [entry.path, entry]))
  return fine({
    name: zip.name,
    paths: [...byPath.keys()],
    bytes: async path => {
      const entry = byPath.get(path)
      return entry ? unpacked(zip, entry) : notThere(zip.name, path)
    },
  })
}

export const notThere = (name: string, path: string): Outcome<never> =>
  wrong({
    where: `${name}, ${path}`,
    what: 'the package does not hold this file.',
    cure: 'It is not whole: fetch it again.',
  })

/** A zip that lies in memory, as the page has it. */
export const zipInMemory = (name: string, bytes: Uint8Array): ZipBytes => ({
  name,
  size: bytes.length,
  read: async (from, length) => bytes.subarray(from, from + length),
})

async function unpacked(zip: ZipBytes, entry: ZipEntry): Promise<Outcome<Uint8Array>> {
  const damaged = (what: string) =>
    wrong({
      where: `${zip.name}, ${entry.path}`,
      what,
      cure: 'It is damaged or was changed: fetch the package again.',
    })
  const head = await zip.read(entry.offset, LOCAL_BYTES + entry.nameBytes.length)
  if (head.length < LOCAL_BYTES + entry.nameBytes.length) return damaged('it breaks off.')
  const view = new DataView(head.buffer, head.byteOffset, head.length)
  const nameLength = view.getUint16(26, true)
  if (
    view.getUint32(0, true) !== LOCAL_SIGNATURE ||
    view.getUint16(8, true) !== entry.method ||
    nameLength !== entry.nameBytes.length ||
    entry.nameBytes.some((byte, i) => byte !== head[LOCAL_BYTES + i])
  )
    return damaged('the list of files and the file itself contradict each other.')
  const from = entry.offset + LOCAL_BYTES + nameLength + view.getUint16(28, true)
  const packed = await zip.read(from, entry.packedBytes)
  if (packed.length !== entry.packedBytes) return damaged('it breaks off.')
  const bytes = entry.method === 0 ? packed.slice() : inflated(packed, entry.bytes)
  if (bytes === null || bytes.length !== entry.bytes || crc32(bytes) !== entry.crc)
    return damaged('its bytes are not those that its checksum was taken of.')
  return fine(bytes)
}

/** No more than `length` bytes are made, whatever the packed bytes would come to. */
function inflated(packed: Uint8Array, length: number): Uint8Array | null {
  try {
    return inflateSync(packed, { out: new Uint8Array(length) })
  } catch {
    return null
  }
}
