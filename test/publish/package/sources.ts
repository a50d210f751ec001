import { sealedText } from '../../../src/publish/package/descriptor.ts'
import type { PackageFile, PackageSource } from '../../../src/publish/package/files.ts'
import { type PackageOptions, packageFiles } from '../../../src/publish/package/packageFiles.ts'
import { notThere } from '../../../src/publish/package/zip/openZip.ts'
import type { PublishedStudy } from '../../../src/publish/study/study.ts'
import { sha256 } from './madeStudy.ts'

export type Files = Map<string, Uint8Array>

/** All files of a package, by path. */
export async function filesOf(study: PublishedStudy, options: Partial<PackageOptions> = {}): Promise<Files> {
  const files: Files = new Map()
  for await (const file of packageFiles(study, { licence: null, authors: [], sha256, ...options }))
    files.set(file.path, file.bytes)
  return files
}

export const sourceOf = (files: Files, name = 'package'): PackageSource => ({
  name,
  paths: [...files.keys()],
  async bytes(path) {
    const value = files.get(path)
    return value ? { ok: true, value } : notThere(name, path)
  },
})

export async function* streamOf(files: Files): AsyncGenerator<PackageFile> {
  for (const [path, bytes] of files) yield { path, bytes }
}

export const textOf = (files: Files, path: string): string => new TextDecoder().decode(files.get(path))
export const jsonOf = (files: Files, path: string) => JSON.parse(textOf(files, path))

/** A file changed, and its size and hash in the descriptor with it, and the descriptor's own, as a forger would. */
export async function forged(files: Files, path: string, content: string | Uint8Array): Promise<Files> {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content
  const descriptor = jsonOf(files, 'datapackage.json')
  const resource = descriptor.resources.find((one: { path: string }) => one.path === path)
  resource.bytes = bytes.length
  resource.hash = `sha256:${await sha256(bytes)}`
  descriptor.tenterhook.hash = `sha256:${await sha256(new TextEncoder().encode(sealedText(descriptor)))}`
  return new Map(files)
    .set(path, bytes)
    .set('datapackage.json', new TextEncoder().encode(JSON.stringify(descriptor)))
}
