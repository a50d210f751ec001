import { pageBackend } from '../../../../src/web/data/pageBackend.ts'
import { serverBackend } from '../../../../src/web/data/serverBackend.ts'
import { problemsOf } from '../../../../src/web/data/trouble.ts'
import { engineIn } from '../../../../src/web/engine/engineClient.ts'
import type { PageEngine } from '../../../../src/web/line/types.ts'

/** Both homes of studies on one page, to be called from outside by the names of their methods. */

const worker = new Worker(new URL('../../../../src/web/pageWorker.ts', import.meta.url), {
  type: 'module',
  name: 'engine',
})
const homes = { page: pageBackend(engineIn<PageEngine>(worker)), server: serverBackend }

type Method = (...given: readonly unknown[]) => Promise<unknown>

/** A file is called for as what it is made of. */
interface FileGiven {
  readonly fileName: string
  readonly content: Uint8Array<ArrayBuffer>
}
const isFile = (value: unknown): value is FileGiven =>
  typeof value === 'object' && value !== null && 'fileName' in value && 'content' in value
const made = (value: unknown): unknown => (isFile(value) ? new File([value.content], value.fileName) : value)

/** What comes back: a value, or what stood in its way with the kind of the error. */
async function call(home: keyof typeof homes, path: readonly string[], given: readonly unknown[]) {
  try {
    let holder: object = homes[home]
    for (const part of path.slice(0, -1)) holder = holder[part as keyof typeof holder]
    const method = holder[path.at(-1) as keyof typeof holder] as Method
    const value = await method.call(holder, ...given.map(made))
    return {
      ok: true,
      value: value instanceof Blob ? new Uint8Array(await value.arrayBuffer()) : value,
    }
  } catch (error) {
    return { ok: false, kind: (error as Error).name, problems: problemsOf(error) }
  }
}

Object.assign(globalThis, { callBackend: call })
