import { isNeverBelowZero, mostHeads } from '../../core/answer/words.ts'
import { toldBound } from '../../core/statistics/compare/words.ts'
import { useMark } from '../app/units.tsx'
import { SideScroll } from '../parts/SideScroll.tsx'
import { texts } from '../texts/index.ts'
import type { Plane } from './plane.ts'
import { amountText, rangedText, spanText } from './shown.ts'

const t = texts.compare

/** Each variant in figures: mean with its interval, spread, and what most specimens exceed. */
export function GroupFigures({ comparison, shown }: Plane) {
  const mark = useMark()
  const neverBelow = isNeverBelowZero(comparison.quantity, comparison.specimens)
  const { of10, of100 } = mostHeads(comparison.quantity)
  return (
    <section>
      <SideScroll label={t.figuresHeading}>
        <table>
          <thead>
            <tr>
              <th>{t.columns.group}</th>
              <th>{t.figures.pulled}</th>
              <th>{t.figures.mean}</th>
              <th>{t.columns.doubt}</th>
              <th>{t.figures.spread}</th>
              <th>{of10.join(' ')}</th>
              <th>{of100.join(' ')}</th>
            </tr>
          </thead>
          <tbody>
            {comparison.groups.map(group => {
              const why = (figure: string) =>
                group.missing.find(missing => missing.figure.startsWith(figure))?.text
              return (
                <tr key={group.name}>
                  <th>{group.name}</th>
                  <td>{group.n}</td>
                  <td title={why('mean')}>{mark(amountText(group.mean, null, shown))}</td>
                  <td title={why('ci95')}>
                    {mark(spanText(group.ci95WithDoubt ?? group.ci95, shown, neverBelow))}
                  </td>
                  <td title={why('sd')}>{mark(rangedText(group.sd, group.sd95, shown, true))}</td>
                  <td title={why('lowerBounds')}>
                    {mark(amountText(toldBound(group.lowerBounds.p90c95, group.min), null, shown))}
                  </td>
                  <td title={why('lowerBounds')}>
                    {mark(amountText(toldBound(group.lowerBounds.p99c95, group.min), null, shown))}
                  </td>
                </tr>
              )
            })}
          </tbody>
        </table>
      </SideScroll>
      <p className="pencil small">{t.figuresDoubt}</p>
    </section>
  )
}
