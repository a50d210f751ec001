import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { SpecimenRow } from '../../logs/index.ts'
import { checkFiles, openDescriptor } from '../../publish/package/openDescriptor.ts'
import { readPackage } from '../../publish/package/readPackage.ts'
import { openZip, zipInMemory } from '../../publish/package/zip/openZip.ts'
import { keptPage } from '../../publish/study/page.ts'
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
  if (!opened.ok) return opened
  const { source, descriptor } = opened.value
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
  const { name, question, method, page, equivalents, specimens, rig } = read.value.study
  const logs: SortedLog[] = []
  const rows: SpecimenRow[] = []
  const taken = new Set<string>()
  for (const specimen of specimens) {
    for (const [at, log] of specimen.logs.entries()) {
      const name = taken.has(log.name) ? `${specimen.name}-${at + 1}-${log.name}` : log.name
      taken.add(name)
      logs.push({
        file: new File([(await log.bytes()).slice()], name),
        options: log.options,
        adjustments: at === 0 ? (specimen.reading?.adjustments ?? []) : [],
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
    tables: [{ name: file.name, rows, problems: [], remarks }],
    strange: [],
    study: { name, question, told: { method, tell: keptPage(page), equivalents: [...equivalents] } },
  })
}
