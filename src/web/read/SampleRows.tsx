import { useEffect, useState } from 'react'
import { fromNewton, type ShownUnit } from '../../core/units/force.ts'
import { decimalsFor, plainNumber } from '../../core/units/showForce.ts'
import { useBench } from '../app/context.tsx'
import { useMark } from '../app/units.tsx'
import { got } from '../data/trouble.ts'
import type { SampleRows as Rows } from '../engine/types.ts'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import type { Shown } from './ReadCurve.tsx'

const AROUND = 9

/** The samples around a time as they were recorded and as they are read: where a ledger ends. */
export function SampleRows({ shown, atS, unit }: { shown: Shown; atS: number; unit: ShownUnit }) {
  const { engine } = useBench()
  const mark = useMark()
  const [rows, setRows] = useState<Rows | null>(null)
  const [error, setError] = useState<unknown>(null)
  const { at, look } = shown
  useEffect(() => {
    let isOver = false
    engine.rows(at, atS, AROUND).then(
      answer => {
        if (isOver) return
        try {
          setRows(got(answer))
        } catch (problem) {
          setError(problem)
        }
      },
      (problem: unknown) => setError(problem),
    )
    return () => {
      isOver = true
    }
  }, [engine, at, atS])
  if (error) return <Problems error={error} />
  if (!rows) return null
  const { noiseN, quantumN } = look.reading.recording
  const decimals = Math.min(6, 1 + decimalsFor(fromNewton(Math.max(noiseN, quantumN, 1e-6), unit)))
  const show = (forceN: number) => mark(plainNumber(fromNewton(forceN, unit), decimals))
  const nearest = nearestTo(rows.timeS, atS)
  const { sampleColumns } = texts.read
  return (
    <div className="scroll-x">
      <table className="read-samples small">
        <caption>{texts.read.samplesHeading(rows.firstSample + nearest + 1)}</caption>
        <thead>
          <tr>
            <th scope="col">{sampleColumns.n}</th>
            <th scope="col">{sampleColumns.time}</th>
            <th scope="col">{sampleColumns.raw(unit)}</th>
            <th scope="col">{sampleColumns.read(unit)}</th>
          </tr>
        </thead>
        <tbody>
          {Array.from(rows.timeS, (timeS, i) => (
            <tr key={timeS} data-here={i === nearest}>
              <th scope="row">{rows.firstSample + i + 1}</th>
              <td>{mark(timeS.toFixed(4))}</td>
              <td>{show(rows.forceN[i] ?? Number.NaN)}</td>
              <td>{show(rows.correctedN[i] ?? Number.NaN)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

function nearestTo(timeS: Float64Array, atS: number): number {
  let nearest = 0
  for (let i = 1; i < timeS.length; i++)
    if (Math.abs((timeS[i] ?? 0) - atS) < Math.abs((timeS[nearest] ?? 0) - atS)) nearest = i
  return nearest
}
