import type { Comparison } from '../../core/statistics/document.ts'
import { useMark } from '../app/units.tsx'
import { useStudies } from '../data/queries.ts'
import { SideScroll } from '../parts/SideScroll.tsx'
import { texts } from '../texts/index.ts'
import type { Plane } from './plane.ts'
import { amountText, halfOf, spanText } from './shown.ts'
import type { Like } from './useLike.ts'

const t = texts.compare

/** The scatter of like studies for pairs of few specimens: the prior, and its answer beside the plain one. */
export function Borrowed({
  comparison,
  shown,
  studyId,
  chosen,
  like,
  onChoose,
}: Pick<Plane, 'comparison' | 'shown'> & {
  studyId: string
  chosen: readonly string[]
  like: Like
  onChoose(ids: readonly string[]): void
}) {
  const { data: studies = [] } = useStudies()
  const others = studies.filter(({ id, archived }) => id !== studyId && !archived)
  return (
    <section>
      <p className="pencil">{t.borrowWhat}</p>
      {others.length === 0 && <p>{t.borrowNoStudies}</p>}
      {others.map(({ id, name }) => (
        <label key={id} className="compare-study">
          <input
            type="checkbox"
            checked={chosen.includes(id)}
            onChange={event =>
              onChoose(event.target.checked ? [...chosen, id] : chosen.filter(other => other !== id))
            }
          />{' '}
          {name}
        </label>
      ))}
      {like.otherRig.length > 0 && <p className="warning">{t.borrowOtherRig(like.otherRig.join(', '))}</p>}
      {chosen.length > 0 && like.scatters === null && <p className="warning">{t.borrowTooFew(like.count)}</p>}
      {like.scatters !== null && !comparison.borrowed && <p>{t.borrowNone}</p>}
      {comparison.borrowed && <Answer comparison={comparison} borrowed={comparison.borrowed} shown={shown} />}
    </section>
  )
}

function Answer({
  comparison,
  borrowed,
  shown,
}: Pick<Plane, 'comparison' | 'shown'> & { borrowed: NonNullable<Comparison['borrowed']> }) {
  const mark = useMark()
  const { cv, cv95, worthDf, groups } = borrowed.prior
  const pct = (share: number): string => (100 * share).toFixed(1)
  return (
    <>
      <p>{mark(t.borrowPrior(groups, pct(cv), pct(cv95[0]), pct(cv95[1]), Math.round(worthDf)))}</p>
      <SideScroll label={t.borrowHeading}>
        <table>
          <thead>
            <tr>
              <th>{t.pair}</th>
              <th>{t.borrowPlain}</th>
              <th>{t.decided}</th>
              <th>{t.borrowWith}</th>
              <th>p</th>
            </tr>
          </thead>
          <tbody>
            {borrowed.pairs.map(({ a, b, difference, ci95, p }) => {
              const plain = comparison.pairs.find(pair => pair.a === a && pair.b === b)
              return (
                <tr key={`${a} ${b}`}>
                  <th>{t.less(a, b)}</th>
                  <td>{mark(told(plain?.difference ?? null, plain?.ci95 ?? null, shown))}</td>
                  <td>{plain ? t.verdicts[plain.verdict] : '–'}</td>
                  <td>{mark(told(difference, ci95, shown))}</td>
                  <td>{p < 0.0001 ? '< 0.0001' : p.toFixed(p < 0.1 ? 3 : 2)}</td>
                </tr>
              )
            })}
          </tbody>
        </table>
      </SideScroll>
      <p className="pencil small">{t.borrowDecides}</p>
    </>
  )
}

const told = (value: number | null, ci95: readonly [number, number] | null, shown: Plane['shown']): string =>
  `${amountText(value, halfOf(ci95), shown)}${ci95 === null ? '' : ` (${spanText(ci95, shown)})`}`
