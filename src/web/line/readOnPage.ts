import { fine, wrong } from '../../core/problem.ts'
import type { ReadSpecimen } from '../../server/desk/storeCaptured.ts'
import { keepReading } from '../data/page/readings.ts'
import { problemsOf } from '../data/trouble.ts'
import type { Engine } from '../engine/types.ts'

/** Reads a specimen of the page anew, and keeps the reading. */
export const readOnPage =
  (engine: Engine): ReadSpecimen =>
  async specimenId => {
    try {
      return fine((await keepReading(engine, specimenId)).reading)
    } catch (error) {
      return wrong(...problemsOf(error))
    }
  }
