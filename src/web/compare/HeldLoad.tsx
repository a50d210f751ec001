import { useId, useState } from 'react'
import { heldLoad, heldText } from '../../core/statistics/compare/heldLoad.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import { useMark } from '../app/units.tsx'
import { FigureInput } from '../parts/FigureInput.tsx'
import { SideScroll } from '../parts/SideScroll.tsx'
import { texts } from '../texts/index.ts'
import type { Plane } from './plane.ts'

const t = texts.compare

/** How many of each variant held a given load, and what share of all holds it at the least. */
export function HeldLoad({ comparison, shown }: Pick<Plane, 'comparison' | 'shown'>) {
  const id = useId()
  const mark = useMark()
  const [load, setLoad] = useState<number | null>(null)
  const unit = shown.unit === '' ? '' : ` ${shown.unit}`
  const groups = load === null ? [] : heldLoad(comparison.specimens, load * shown.per)
  const pct = (share: number): string => `${plainNumber(100 * share, 0)} %`
  return (
    <section>
      <p className="pencil">{t.proofWhat}</p>
      <div className="row">
        <label htmlFor={id}>{t.proofLoad}</label>{' '}
        <FigureInput id={id} className="input compare-worth" value={load} onFigure={setLoad} />
        {unit}
      </div>
      {groups.length > 0 && (
        <>
          <SideScroll label={t.proofHeading}>
            <table>
              <thead>
                <tr>
                  <th>{t.columns.group}</th>
                  <th>{t.proofHeld}</th>
                  <th>{t.proofInterval}</th>
                  <th>{t.proofLeast}</th>
                </tr>
              </thead>
              <tbody>
                {groups.map(({ group, held, of, record }) => (
                  <tr key={group}>
                    <th>{group}</th>
                    <td>{t.proofOf(held, of)}</td>
                    <td>{record ? mark(`${pct(record.ci95[0])} to ${pct(record.ci95[1])}`) : '–'}</td>
                    <td>{record ? mark(pct(record.atLeast)) : '–'}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </SideScroll>
          {groups.map(one => (
            <p key={one.group}>{mark(`${heldText(one, `${load}${unit}`)}.`)}</p>
          ))}
        </>
      )}
    </section>
  )
}
