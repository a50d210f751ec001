import type { Ledger as LedgerOf, ShowForce } from '../../core/reading/explainLedger.ts'
import { useMark } from '../app/units.tsx'
import { texts } from '../texts/index.ts'
import './Ledger.css'

/** The list under a peak force of everything that made it: what is added up, then the parts of the doubt. */
export function Ledger({ ledger, show }: { ledger: LedgerOf; show: ShowForce }) {
  const mark = useMark()
  return (
    <div className="ledger">
      <table>
        <tbody>
          {ledger.lines.map(({ amountN, text }, i) => (
            <tr key={text}>
              <td className="ledger-amount">
                {mark(signed(show(Math.abs(amountN), null), amountN, i === 0))}
              </td>
              <td>{mark(text)}</td>
            </tr>
          ))}
          <tr className="ledger-total">
            <td className="ledger-amount">{mark(show(ledger.totalN, null))}</td>
            <td>{texts.read.ledgerTotal}</td>
          </tr>
        </tbody>
      </table>
      {ledger.halfWidths.length > 0 && (
        <p className="pencil small">
          {texts.read.ledgerHalfWidths}
          {mark(
            ledger.halfWidths.map(({ halfWidthN, text }) => `${show(halfWidthN, null)} ${text}`).join(' · '),
          )}
        </p>
      )}
    </div>
  )
}

/** `+ 6.7 N` and `− 6.7 N`; the first line is where the sum begins and has a sign only below nought. */
const signed = (amount: string, amountN: number, isFirst: boolean): string =>
  amountN < 0 ? `− ${amount}` : isFirst ? amount : `+ ${amount}`
