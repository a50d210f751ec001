import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { SpecimenRow } from '../../logs/index.ts'
import type { PackageSource } from '../../publish/package/files.ts'
import { DESCRIPTOR, README } from '../../publish/package/layout.ts'
import { checkFiles, openDescriptor, type PackageDescriptor } from '../../publish/package/openDescriptor.ts'
import { readPackage } from '../../publish/package/readPackage.ts'
import { openZip, zipInMemory } from '../../publish/package/zip/openZip.ts'
import { keptPage } from '../../publish/study/page.ts'
import { toldFields } from '../../publish/study/toldFields.ts'
import { sha256Hex } from '../engine/sha256.ts'
import { texts } from '../texts/index.ts'
import type { Sorted, SortedLog } from './importState.ts'

/**
 * The logs of a data package, each with its specimen, its variant, how it was read and the adjustments of its reading,
 * as if they had been dropped with their table. Every file is held against its published hash first.
 */
export async function unpack(file: File): Promise<Outcome<Sorted>> {
  const zip = await openZip(zipInMemory(file.name, new Uint8Array(await file.arrayBuffer())))
  if (!zip.ok) return zip
  const opened = await openDescriptor(zip.value)
  return opened.ok ? unpackFrom(file, opened.value) : opened
}

/** A package as its description and the files beside it, each known by its name and length; its hash is held against it. */
export async function unpackFolder(
  description: File,
  beside: readonly File[],
): Promise<Outcome<{ readonly found: Sorted; readonly used: readonly File[] } | null>> {
  const bytesOf = async (file: File) => new Uint8Array(await file.arrayBuffer())
  const opened = await openDescriptor({
    name: description.name,
    paths: [DESCRIPTOR],
    bytes: async () => fine(await bytesOf(description)),
  })
  if (!opened.ok) return opened
  const { descriptor } = opened.value
  const files = new Map<string, File>()
  for (const { path, bytes, hash } of descriptor.resources) {
    const alike = beside.filter(({ name, size }) => path.split('/').at(-1) === name && size === bytes)
    for (const file of alike)
      if (alike.length === 1 || hash === `sha256:${sha256Hex(await bytesOf(file))}`) files.set(path, file)
  }
  if (files.size === 0) return fine(null)
  const source: PackageSource = {
    name: description.name,
    paths: [DESCRIPTOR, ...files.keys()],
    async bytes(path) {
      const file = path === DESCRIPTOR ? description : files.get(path)
      return file
        ? fine(await bytesOf(file))
        : wrong({ where: `${description.name}, ${path}`, ...texts.import.packageLacks })
    },
  }
  const found = await unpackFrom(description, { source, descriptor })
  const forPeople = beside.filter(({ name }) => name === README)
  return found.ok ? fine({ found: found.value, used: [...files.values(), ...forPeople] }) : found
}

async function unpackFrom(
  file: File,
  { source, descriptor }: { readonly source: PackageSource; readonly descriptor: PackageDescriptor },
): Promise<Outcome<Sorted>> {
  const findings = await checkFiles(source, descriptor, async bytes => sha256Hex(bytes))
  if (findings.length > 0)
    return wrong(
      ...findings.slice(0, 20).map(({ path, text }) => ({
        where: `${file.name}, ${path}`,
        what: text,
        cure: texts.import.packageChanged,
      })),
    )
  const read = await readPackage(source, descriptor)
  if (!read.ok) return read
  const { name, question, method, page, equivalents, specimens, rig, checks } = read.value.study
  const logs: SortedLog[] = []
  const rows: SpecimenRow[] = []
  const taken = new Set<string>()
  for (const specimen of specimens) {
    for (const [at, log] of specimen.logs.entries()) {
      const name = taken.has(log.name) ? `${specimen.name}-${at + 1}-${log.name}` : log.name
      taken.add(name)
      logs.push({
        file: new File([(await log.bytes()).slice()], name, { lastModified: 0 }),
        options: log.options,
        adjustments: at === 0 ? (specimen.reading?.adjustments ?? []) : [],
        rig: specimen.readWith.rig,
        calibration: specimen.readWith.calibration,
      })
      rows.push({
        line: rows.length + 1,
        file: name,
        specimen: specimen.name,
        variant: specimen.variant,
        elements: specimen.elements,
        widthMm: specimen.widthMm,
        thicknessMm: specimen.thicknessMm,
        lengthMm: specimen.lengthMm,
        mode: specimen.failureMode,
        note: specimen.note || null,
      })
    }
  }
  const remarks = [
    texts.import.packageOf(name),
    ...(rig === null ? [] : [texts.import.packageRig(rig.name)]),
    ...specimens
      .filter(({ status }) => status === 'left-out')
      .map(left => texts.import.packageLeftOut(left.name, left.statusReason)),
  ]
  return fine({
    logs,
    tables: [
      {
        name: file.name,
        rows,
        problems: [],
        remarks,
        told: specimens.map(one => ({
          variant: one.variant,
          hasLogs: one.logs.length > 0,
          fields: toldFields(one),
        })),
        ...(rig !== null && checks.length > 0 && { checked: { rig, checks } }),
      },
    ],
    strange: [],
    study: { name, question, told: { method, tell: keptPage(page), equivalents: [...equivalents] } },
  })
}
