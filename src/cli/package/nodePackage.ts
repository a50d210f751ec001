import { mkdir, open, readdir, readFile, rename, rm, rmdir, stat, writeFile } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { PackageFault, type PackageFile, type PackageSource } from '../../publish/package/files.ts'
import { DESCRIPTOR } from '../../publish/package/layout.ts'
import { tooMuch, ZIP_LIMITS } from '../../publish/package/zip/directory.ts'
import { notThere, openZip } from '../../publish/package/zip/openZip.ts'
import { ZipTooLarge, zipOf, zipProblem } from '../../publish/package/zip/zipOf.ts'
import { zipLimits } from '../../server/zipLimits.ts'
import { fileProblem, nameOfInput, pathOfInput } from '../files.ts'
import { writePieces } from '../writePieces.ts'

/** Whether a path is that of a package rather than of a log: a folder, a zip, or a descriptor. */
export async function isPackage(path: string): Promise<boolean> {
  if (/\.zip$/i.test(path) || basename(path) === DESCRIPTOR) return true
  if (path === '-') return isPackedPackage(await pathOfInput(path))
  const there = await stat(path).catch(() => null)
  return there?.isDirectory() ?? false
}

/** A zip without an ending that would tell: a workbook is one too, and is no package. */
async function isPackedPackage(path: string): Promise<boolean> {
  const bytes = await readFile(path)
  return bytes.subarray(0, 2).toString('latin1') === 'PK' && bytes.includes(DESCRIPTOR)
}

export interface OpenedPackage {
  readonly source: PackageSource
  close(): Promise<void>
}

/** A package on disk. A folder's links are not followed; a zip is proved harmless first. */
export async function openPackage(path: string): Promise<Outcome<OpenedPackage>> {
  try {
    const there = await stat(await pathOfInput(path))
    if (there.isDirectory()) return await openFolder(path)
    return basename(path) === DESCRIPTOR ? await openFolder(dirname(path)) : await openZipFile(path)
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

async function openZipFile(path: string): Promise<Outcome<OpenedPackage>> {
  const file = await open(await pathOfInput(path), 'r')
  const { size } = await file.stat()
  const opened = await openZip(
    {
      name: nameOfInput(path),
      size,
      async read(from, length) {
        const bytes = new Uint8Array(Math.max(0, Math.min(length, size - from)))
        const { bytesRead } = await file.read(bytes, 0, bytes.length, from)
        return bytes.subarray(0, bytesRead)
      },
    },
    zipLimits(),
  )
  if (opened.ok) return fine({ source: opened.value, close: () => file.close() })
  await file.close()
  return opened
}

/** Unit of what a file takes on the disk (POSIX, sys/stat.h: `st_blocks`, as every system at hand counts them). */
const BLOCK_BYTES = 512

/** What desktops leave in folders. */
const RESIDUE = new Set(['.DS_Store', 'Thumbs.db', 'desktop.ini'])

async function openFolder(folder: string): Promise<Outcome<OpenedPackage>> {
  const files: { path: string; bytes: number; packedBytes: number }[] = []
  const walk = async (inside: string): Promise<Outcome<null>> => {
    for (const entry of await readdir(join(folder, inside), { withFileTypes: true })) {
      const path = inside === '' ? entry.name : `${inside}/${entry.name}`
      if (RESIDUE.has(entry.name)) continue
      if (entry.isDirectory()) {
        const below = await walk(path)
        if (!below.ok) return below
      } else if (entry.isFile()) {
        const { size, blocks } = await stat(join(folder, path))
        // Not every system tells what a file takes on the disk.
        files.push({ path, bytes: size, packedBytes: blocks === undefined ? size : BLOCK_BYTES * blocks })
      } else
        return wrong({
          where: join(folder, path),
          what: 'it is a link or a device, not a file.',
          cure: 'Put the file itself in its place.',
        })
      if (files.length > ZIP_LIMITS.entries)
        return wrong({
          where: folder,
          what: `it holds more than ${ZIP_LIMITS.entries} files.`,
          cure: 'Name the folder of the package itself.',
        })
    }
    return fine(null)
  }
  const walked = await walk('')
  if (!walked.ok) return walked
  const takes = files.reduce((sum, file) => sum + file.packedBytes, 0)
  const [over] = tooMuch(files, takes, zipLimits(), 'comes to')
  if (over)
    return wrong({
      where: join(folder, over.path),
      what: over.what,
      cure: 'Take the file out if it is no part of the package; else open it on a computer with more memory.',
    })
  const paths = files.map(({ path }) => path)
  const there = new Set(paths)
  const source: PackageSource = {
    name: basename(resolve(folder)),
    paths,
    async bytes(path) {
      if (!there.has(path)) return notThere(folder, path)
      try {
        return fine(new Uint8Array(await readFile(join(folder, path))))
      } catch (error) {
        return wrong(fileProblem(join(folder, path), error))
      }
    },
  }
  return fine({ source, close: async () => {} })
}

/** Writes a package as a zip where the path ends so, else as a folder, which must be new or empty. */
export async function writePackage(
  path: string,
  files: AsyncIterable<PackageFile>,
  madeAt: string,
): Promise<Outcome<string>> {
  try {
    return /\.zip$/i.test(path)
      ? await writePieces(path, zipOf(files, madeAt))
      : await writeFolder(path, files)
  } catch (error) {
    if (error instanceof PackageFault) return wrong(error.problem)
    if (error instanceof ZipTooLarge) return zipProblem(error, path)
    return wrong(fileProblem(path, error, 'writing'))
  }
}

/** Beside its place and renamed, so that there is never half a package. */
async function writeFolder(path: string, files: AsyncIterable<PackageFile>): Promise<Outcome<string>> {
  const target = resolve(path)
  const there = await readdir(target).catch((error: NodeJS.ErrnoException) =>
    error.code === 'ENOENT' ? null : Promise.reject(error),
  )
  if (there !== null && there.length > 0)
    return wrong({
      where: path,
      what: 'the folder is not empty.',
      cure: 'Choose a new one, so that nothing old is taken for a part of the package.',
    })
  const half = join(dirname(target), `.${process.pid}-${Date.now().toString(36)}.part`)
  try {
    await mkdir(half)
    for await (const file of files) {
      const place = join(half, ...file.path.split('/'))
      await mkdir(dirname(place), { recursive: true })
      await writeFile(place, file.bytes)
    }
    if (there !== null) await rmdir(target)
    await rename(half, target)
    return fine(path)
  } catch (error) {
    await rm(half, { recursive: true, force: true })
    throw error
  }
}
