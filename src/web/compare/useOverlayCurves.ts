import { useEffect, useRef, useState } from 'react'
import { useBench } from '../app/context.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useRigs } from '../data/queries.ts'
import { specimenSource } from '../engine/specimenSource.ts'
import type { OverlayCurve } from '../engine/types.ts'

export interface LoadedCurve extends OverlayCurve {
  /** Of the specimen. */
  readonly id: string
}

/** Points of a curve: enough for the widest screen, few enough for a thousand curves. */
const PIXELS = 1000
/** New curves come onto the screen in steps of this long. */
const STEP_MS = 150

/**
 * The joined curves of some studies' newest readings, one after another from the engine's thread. Where one has no
 * extension all are asked for again over loading time: that is what they have in common.
 */
export function useOverlayCurves(opens: readonly OpenStudy[]): {
  readonly curves: readonly LoadedCurve[]
  readonly wanted: number
} {
  const { engine } = useBench()
  const { data: rigs } = useRigs()
  const [curves, setCurves] = useState<readonly LoadedCurve[]>([])
  const jobs = opens.flatMap(open =>
    open.readings.flatMap(({ id, specimenId, reading }) => {
      const found = specimenId === null ? null : specimenSource(open, specimenId, rigs ?? [])
      return found && specimenId !== null
        ? [{ readingId: id, specimenId, reading, source: found.source }]
        : []
    }),
  )
  const key = jobs.map(({ readingId }) => readingId).join()

  const latest = useRef(jobs)
  latest.current = jobs

  useEffect(() => {
    // What is to be loaded is another array at each drawing; `key` tells whether it holds other readings.
    if (rigs === undefined || key === '') return
    let ended = false
    const load = async (againstTime: boolean): Promise<void> => {
      const loaded: LoadedCurve[] = []
      let shownAt = performance.now()
      for (const { specimenId, reading, source } of latest.current) {
        const answer = await engine.overlay(source, reading, { pixels: PIXELS, againstTime })
        if (ended) return
        // One that cannot be had is missing among the curves; its own page says why.
        if (answer.ok && answer.value.along.length > 0) loaded.push({ ...answer.value, id: specimenId })
        if (performance.now() - shownAt > STEP_MS) {
          setCurves([...loaded])
          shownAt = performance.now()
        }
      }
      if (!againstTime && new Set(loaded.map(({ against }) => against)).size > 1) return load(true)
      setCurves(loaded)
    }
    void load(false)
    return () => {
      ended = true
    }
  }, [key, rigs, engine])

  return { curves, wanted: jobs.length }
}
