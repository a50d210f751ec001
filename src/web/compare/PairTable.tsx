import { CHANCE_WORDS, FIGURE_HEADS } from '../../core/answer/words.ts'
import { pText } from '../../core/statistics/compare/words.ts'
import { useMark } from '../app/units.tsx'
import { SideScroll } from '../parts/SideScroll.tsx'
import { texts } from '../texts/index.ts'
import type { Plane } from './plane.ts'
import { amountText, halfOf, spanText } from './shown.ts'

const t = texts.compare

/** Every pair with its difference, its interval and what was decided; beneath it the same in sentences. */
export function PairTable({ comparison, shown }: Pick<Plane, 'comparison' | 'shown'>) {
  const mark = useMark()
  const { pairs, verdict, notShown, inStatistics, warnings } = comparison
  return (
    <>
      {pairs.length > 0 && (
        <SideScroll label={t.pairsHeading}>
          <table>
            <thead>
              <tr>
                <th>{t.pair}</th>
                <th>{t.difference}</th>
                <th>{t.columns.doubt}</th>
                <th>{FIGURE_HEADS.chance.join(' ')}</th>
                <th>{t.decided}</th>
              </tr>
            </thead>
            <tbody>
              {pairs.map(pair => {
                const { difference, ci95 } = pair
                return (
                  <tr key={`${pair.a} ${pair.b}`}>
                    <th>{t.less(pair.a, pair.b)}</th>
                    <td>{mark(amountText(difference, halfOf(ci95), shown))}</td>
                    <td>{mark(spanText(ci95, shown))}</td>
                    <td>
                      {pair.pAdjusted === null ? '–' : mark(pText(pair.pAdjusted).replace(/^p (= )?/, ''))}
                    </td>
                    <td>{t.verdicts[pair.verdict]}</td>
                  </tr>
                )
              })}
            </tbody>
          </table>
        </SideScroll>
      )}
      {pairs.length > 0 && <p className="pencil small">{CHANCE_WORDS}</p>}
      <p className="compare-verdict">{mark(verdict)}</p>
      {notShown && <p className="compare-not-shown">{mark(notShown)}</p>}
      {warnings.map(({ code, text }) => (
        <p key={`${code} ${text}`} className="warning">
          {mark(text)}
        </p>
      ))}
      <p className="pencil compare-statistics">{mark(inStatistics)}</p>
    </>
  )
}
