import type { Health } from '../../../core/health/document.ts'
import type { HealthRecord } from '../../../core/health/types.ts'
import type { ForceUnit } from '../../../core/units/force.ts'
import { useMark } from '../../app/units.tsx'
import { texts } from '../../texts/index.ts'
import { EvidenceTrace } from './EvidenceTrace.tsx'
import { healthForce } from './healthForce.ts'

const t = texts.health

/** The short list, gravest first, each with its cost, its cure and where it is seen. */
export function Findings({
  health,
  records,
  unit,
}: {
  health: Health
  records: readonly HealthRecord[]
  unit: ForceUnit
}) {
  const mark = useMark()
  const cost = (costN: number | null): string => {
    if (costN === null) return t.costUnknown
    return costN === 0 ? t.costsNothing : t.costs(healthForce(costN, health.forceUnit, unit))
  }
  return (
    <div className="health-found" aria-live="polite">
      <p>
        <strong>
          {health.healthy
            ? health.notKnown.length === 0
              ? t.well
              : t.nothingWrong
            : t.wrong(health.findings.length)}
        </strong>
      </p>
      <ol className="health-list">
        {health.findings.map(finding => (
          <li key={finding.code}>
            <p>{mark(finding.text)}</p>
            <p className="pencil">{mark(cost(finding.costN))}</p>
            <p>{mark(finding.cure)}</p>
            {finding.evidence
              .filter(e => e.atS.length + e.spans.length > 0)
              .map(evidence => {
                const record = records[evidence.record]
                if (record === undefined) return null
                const label = t.evidence(t.steps[record.step].name)
                return (
                  <figure key={evidence.record} className="health-figure">
                    <EvidenceTrace recording={record.recording} evidence={evidence} label={label} />
                    <figcaption className="pencil small">{label}</figcaption>
                  </figure>
                )
              })}
          </li>
        ))}
      </ol>
      {health.leastDropN !== null && (
        <p>{mark(t.leastDrop(healthForce(health.leastDropN, health.forceUnit, unit)))}</p>
      )}
      <ul className="plain-list pencil small">
        {health.notKnown.map(text => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </div>
  )
}
