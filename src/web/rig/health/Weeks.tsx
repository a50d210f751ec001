import { useQuery } from '@tanstack/react-query'
import { useId } from 'react'
import type { Rig as RigDocument } from '../../../core/calibration/rig.ts'
import type { HealthEntry } from '../../../core/health/entry.ts'
import type { Rig } from '../../../server/apiTypes.ts'
import { useBench } from '../../app/context.tsx'
import { useMark, useUnit } from '../../app/units.tsx'
import { texts } from '../../texts/index.ts'
import { healthForce } from './healthForce.ts'
import { type RecordedDay, recordedHealth } from './recordedHealth.ts'

const t = texts.health

/** The rig over the weeks, the latest first: what checks found that were kept, and what the rests of ordinary recordings show. */
export function Weeks({ kept, rig }: { kept: Rig; rig: RigDocument }) {
  const id = useId()
  const { backend } = useBench()
  const unit = useUnit()
  const mark = useMark()
  const recorded = useQuery({
    queryKey: ['recorded-health', kept.id, rig.calibrations.length, unit],
    queryFn: () => recordedHealth(backend.recordings, kept.id, rig, unit),
  })
  const lines = linesOf(rig.health ?? [], recorded.data ?? [])
  if (lines.length === 0) return null
  return (
    <details className="health-weeks">
      <summary>{t.weeks(lines.length)}</summary>
      <table aria-labelledby={id}>
        <caption id={id} className="pencil small">
          {t.weeksWhat}
        </caption>
        <thead>
          <tr>
            <th scope="col">{t.day}</th>
            <th scope="col">{t.from}</th>
            <th scope="col">{t.noise}</th>
            <th scope="col">{t.found}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map(({ key, day, from, entry }) => (
            <tr key={key}>
              <td>{day}</td>
              <td>{from}</td>
              <td>{entry.noise === null ? '–' : mark(healthForce(entry.noise, entry.forceUnit, unit))}</td>
              <td>{entry.healthy ? t.allWell : mark(entry.findings.map(f => f.text).join(' '))}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}

interface Line {
  readonly key: string
  readonly day: string
  readonly from: string
  readonly entry: HealthEntry
}

const linesOf = (checks: readonly HealthEntry[], recorded: readonly RecordedDay[]): readonly Line[] =>
  [
    ...checks.map(entry => ({ key: entry.at, day: entry.at.slice(0, 10), from: t.aCheck, entry })),
    ...recorded.map(({ day, recordings, found }) => ({
      key: `recorded ${day}`,
      day,
      from: t.recordings(recordings),
      entry: found,
    })),
  ].sort((a, b) => (a.day < b.day ? 1 : -1))
