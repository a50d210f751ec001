import { useEffect, useState } from 'react'
import type { Rig } from '../../../core/calibration/rig.ts'
import { knownForPulls } from '../../../core/health/knownRig.ts'
import { useMark, useUnit } from '../../app/units.tsx'
import { texts } from '../../texts/index.ts'
import { healthForce } from './healthForce.ts'

const t = texts.health
const LOOK_MS = 10_000

/** What the checks of the rig's health mean for the pulls to come; nothing where there was none. */
export function HealthNotes({ rig, line = null }: { rig: Rig | null; line?: string | null }) {
  const unit = useUnit()
  const mark = useMark()
  const openMin = useOpenMinutes(line)
  const known = rig === null ? null : knownForPulls(rig)
  if (known === null) return null
  const { leastDropN, waitMin } = known
  const isCold = waitMin !== null && waitMin > 0 && (openMin === null || openMin < waitMin)
  return (
    <ul className="plain-list pencil small">
      {leastDropN !== null && <li>{mark(t.leastDrop(healthForce(leastDropN, unit, unit)))}</li>}
      {isCold && (
        <li role="status">
          {openMin === null ? t.warm(Math.ceil(waitMin)) : t.notWarm(Math.ceil(waitMin - openMin))}
        </li>
      )}
    </ul>
  )
}

/** Minutes since this page first saw the line open: the rig has been on for as long at least. */
function useOpenMinutes(line: string | null): number | null {
  const [sinceMs, setSince] = useState<number | null>(null)
  const [nowMs, setNow] = useState(0)
  useEffect(() => {
    if (line === null) {
      setSince(null)
      return
    }
    setSince(performance.now())
    setNow(performance.now())
    const timer = setInterval(() => setNow(performance.now()), LOOK_MS)
    return () => clearInterval(timer)
  }, [line])
  return sinceMs === null ? null : Math.max(0, nowMs - sinceMs) / 60_000
}
