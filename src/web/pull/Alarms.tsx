import { useMark } from '../app/units.tsx'
import { useLiveState } from '../live/useLive.tsx'

/** What the operator must know now, before harm is done. */
export function Alarms() {
  const { alarms, closedBy } = useLiveState()
  const mark = useMark()
  return (
    <div className="pull-alarms">
      {alarms.map(({ code, where, what, cure }) => (
        <div key={code} className="trouble warning" role="alert" data-alarm={code}>
          <strong>{where}:</strong> {mark(what)} {mark(cure)}
        </div>
      ))}
      {closedBy && (
        <div className="trouble" role="alert">
          <strong>{closedBy.where}:</strong> {closedBy.what} {closedBy.cure}
        </div>
      )}
    </div>
  )
}
