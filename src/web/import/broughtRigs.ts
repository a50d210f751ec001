import type { Rig } from '../../core/calibration/rig.ts'
import type { Backend } from '../data/backend.ts'
import type { CheckedRig } from './types.ts'

/**
 * The rigs that packages bring along. One that is there with the same document is that rig; another of the same name
 * gets a number, so that what older recordings were read with stays as it was.
 */
export class BroughtRigs {
  readonly #backend: Backend
  #known: Promise<{ ids: Map<string, string>; names: Set<string> }> | null = null

  constructor(backend: Backend) {
    this.#backend = backend
  }

  async idOf(rig: Rig): Promise<string> {
    this.#known ??= this.#look()
    const { ids, names } = await this.#known
    const key = JSON.stringify(rig)
    const there = ids.get(key)
    if (there !== undefined) return there
    let { name } = rig
    for (let number = 2; names.has(name); number++) name = `${rig.name} (${number})`
    const { id } = await this.#backend.rigs.create({ name, document: rig })
    ids.set(key, id)
    names.add(name)
    return id
  }

  /** Keeps the checks of a rig that are not there yet; none of one that no log was kept with. */
  async keepChecks({ rig, checks }: CheckedRig): Promise<void> {
    const rigId = (await this.#known)?.ids.get(JSON.stringify(rig))
    if (rigId === undefined) return
    const there = await this.#backend.checks.list(rigId)
    const known = new Set(there.map(({ document }) => JSON.stringify(document)))
    for (const check of checks)
      if (!known.has(JSON.stringify(check)))
        await this.#backend.checks.keep({ rigId, calibrationId: null, madeAt: check.at, document: check })
  }

  async #look() {
    const { parseRig } = await import('../../core/calibration/rig.ts')
    const ids = new Map<string, string>()
    const names = new Set<string>()
    for (const { id, name, document } of await this.#backend.rigs.list()) {
      names.add(name)
      const rig = parseRig(JSON.stringify(document), name)
      if (rig.ok) ids.set(JSON.stringify(rig.value), id)
    }
    return { ids, names }
  }
}
