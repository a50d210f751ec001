import { type Ledger as LedgerOf, ledgerAmounts } from '../../core/reading/explainLedger.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import { useMark } from '../app/units.tsx'
import { texts } from '../texts/index.ts'
import './Ledger.css'

/** The list under a peak force of everything that made it: what is added up, then the parts of the doubt. */
export function Ledger({ ledger, unit }: { ledger: LedgerOf; unit: ShownUnit }) {
  const mark = useMark()
  const amounts = ledgerAmounts(ledger, unit)
  return (
    <div className="ledger">
      <table>
        <tbody>
          {amounts.lines.map(({ sign, amount, text }) => (
            <tr key={text}>
              <td className="ledger-amount">{mark(`${sign} ${amount} ${unit}`.trim())}</td>
              <td>{mark(text)}</td>
            </tr>
          ))}
          <tr className="ledger-total">
            <td className="ledger-amount">{mark(`${amounts.total} ${unit}`)}</td>
            <td>{texts.read.ledgerTotal}</td>
          </tr>
        </tbody>
      </table>
      {amounts.halfWidths.length > 0 && (
        <p className="pencil small">
          {texts.read.ledgerHalfWidths}
          {mark(amounts.halfWidths.map(({ amount, text }) => `${amount} ${unit} ${text}`).join(' · '))}
        </p>
      )}
    </div>
  )
}
