import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { DEMO, type DemoSpecimen, demoRig, demoStudy } from '../../capture/pretend/index.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import { writeCsv } from '../../logs/index.ts'
import { fileProblem, writeWhole } from '../files.ts'
import { checksPathOf } from '../rigFile.ts'

export interface DemoFiles {
  readonly specimens: readonly {
    readonly name: string
    readonly variant: string
    readonly paths: readonly string[]
  }[]
  readonly table: string
  /** The rig that they were pulled on; its check of the day lies beside it. */
  readonly rig: string
}

/** Makes the demo's logs, its table of specimens and its rig in a folder, as a rig and a person would have left them. */
export async function writeDemo(folder: string): Promise<Outcome<DemoFiles>> {
  const study = demoStudy(DEMO.seed)
  try {
    await mkdir(folder, { recursive: true })
  } catch (error) {
    return { ok: false, problems: [fileProblem(folder, error)] }
  }
  const specimens: { name: string; variant: string; paths: string[] }[] = []
  for (const { specimen, logs, row } of study) {
    const paths: string[] = []
    for (const { file, recording } of logs) {
      const written = await writeWhole(
        join(folder, file),
        [...writeCsv(recording, { unit: DEMO.logUnit })].join(''),
      )
      if (!written.ok) return written
      paths.push(written.value)
    }
    specimens.push({ name: specimen, variant: row.variant, paths })
  }
  const table = await writeWhole(join(folder, 'specimens.csv'), tableText(study))
  if (!table.ok) return table
  const { rig, check } = demoRig()
  const rigFile = await writeWhole(join(folder, 'rig.json'), `${JSON.stringify(rig, null, 2)}\n`)
  if (!rigFile.ok) return rigFile
  const checks = await writeWhole(checksPathOf(rigFile.value), `${JSON.stringify(check)}\n`)
  return checks.ok ? fine({ specimens, table: table.value, rig: rigFile.value }) : checks
}

const COLUMNS = ['file', 'specimen', 'variant', 'elements', 'width_mm', 'mode', 'note'] as const

/** A row for each log; a specimen in two logs has two rows. */
function tableText(study: readonly DemoSpecimen[]): string {
  const rows = study.flatMap(({ logs, row }) => logs.map(({ file }) => ({ file, ...row })))
  const lines = rows.map(row => COLUMNS.map(column => quoted(String(row[column] ?? ''))).join(','))
  return `${[COLUMNS.join(','), ...lines].join('\n')}\n`
}

const quoted = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)
