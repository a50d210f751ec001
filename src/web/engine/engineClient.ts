import { wrap } from 'comlink'
import type { Engine } from './types.ts'

/** The engine of a worker, to be called like any other object. */
export const engineIn = (worker: Worker): Engine => wrap<Engine>(worker) as unknown as Engine
