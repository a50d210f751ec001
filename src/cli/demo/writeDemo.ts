import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { DEMO, type DemoSpecimen, demoStudy } from '../../capture/pretend/index.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import { writeCsv } from '../../logs/index.ts'
import { fileProblem, writeWhole } from '../files.ts'

export interface DemoFiles {
  readonly specimens: readonly {
    readonly name: string
    readonly variant: string
    readonly paths: readonly string[]
  }[]
  readonly table: string
}

/** Makes the demo's logs and its table of specimens in a folder, as a rig and a person would have left them. */
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
  return table.ok ? fine({ specimens, table: table.value }) : table
}

const COLUMNS = ['file', 'specimen', 'variant', 'elements', 'width_mm', 'mode', 'note'] as const

/** A row for each log; a specimen in two logs has two rows. */
function tableText(study: readonly DemoSpecimen[]): string {
  const rows = study.flatMap(({ logs, row }) => logs.map(({ file }) => ({ file, ...row })))
  const lines = rows.map(row => COLUMNS.map(column => quoted(String(row[column] ?? ''))).join(','))
  return `${[COLUMNS.join(','), ...lines].join('\n')}\n`
}

const quoted = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)
