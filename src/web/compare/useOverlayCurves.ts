import { useEffect, useMemo, useRef, useState } from 'react'
import { useBench } from '../app/context.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useRigs } from '../data/queries.ts'
import { specimenSource } from '../engine/specimenSource.ts'
import type { OverlayCurve } from '../engine/types.ts'

export interface LoadedCurve extends OverlayCurve {
  /** Of the specimen. */
  readonly id: string
  /** Of which reading over which samples. */
  readonly of: string
}

/** Points of a curve: enough for the widest screen, few enough for a thousand curves. */
const PIXELS = 1000
/** New curves come onto the screen in steps of this long: drawing them all takes a while too. */
const STEP_MS = 500
/** So many are asked for at a time: while one is worked on the samples of the others are on their way. */
const AT_ONCE = 4

/**
 * The joined curves of some studies' newest readings, a few at a time from the engine's thread. Where one has no
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
        ? [
            {
              specimenId,
              reading,
              source: found.source,
              // The same reading over other samples (another rig, another scale) is another curve.
              of: `${id} ${JSON.stringify(found.source)}`,
            },
          ]
        : []
    }),
  )
  const key = jobs.map(({ of }) => of).join()

  const latest = useRef(jobs)
  latest.current = jobs

  useEffect(() => {
    // What is to be loaded is another array at each drawing; `key` tells whether it holds other readings.
    if (rigs === undefined || key === '') return
    let ended = false
    const load = async (againstTime: boolean): Promise<void> => {
      // By their place among the jobs: they come in any order.
      const places: (LoadedCurve | null)[] = []
      const loaded = () => places.filter(curve => curve != null)
      const queue = latest.current.entries()
      let shownAt = performance.now()
      const take = async (): Promise<void> => {
        for (const [i, { specimenId, reading, source, of }] of queue) {
          const answer = await engine.overlay(source, reading, { pixels: PIXELS, againstTime })
          if (ended) return
          // One that cannot be had is missing among the curves; its own page says why.
          places[i] =
            answer.ok && answer.value.along.length > 0 ? { ...answer.value, id: specimenId, of } : null
          if (performance.now() - shownAt > STEP_MS) {
            setCurves(loaded())
            shownAt = performance.now()
          }
        }
      }
      await Promise.all(Array.from({ length: AT_ONCE }, take))
      if (ended) return
      if (!againstTime && new Set(loaded().map(({ against }) => against)).size > 1) return load(true)
      setCurves(loaded())
    }
    void load(false)
    return () => {
      ended = true
    }
  }, [key, rigs, engine])

  // What was loaded for another reading may be in another unit than the axis is in by now.
  const wanted = useMemo(() => new Set(key === '' ? [] : latest.current.map(({ of }) => of)), [key])
  return {
    curves: useMemo(() => curves.filter(({ of }) => wanted.has(of)), [curves, wanted]),
    wanted: jobs.length,
  }
}
