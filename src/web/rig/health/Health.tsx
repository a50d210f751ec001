import { useId, useState } from 'react'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Rig as RigDocument } from '../../../core/calibration/rig.ts'
import type { Health, HealthStep } from '../../../core/health/document.ts'
import { entryOf, type HealthEntry, withEntry } from '../../../core/health/entry.ts'
import type { HealthRecord } from '../../../core/health/types.ts'
import type { Recording } from '../../../core/recording.ts'
import type { Rig } from '../../../server/apiTypes.ts'
import { useBench } from '../../app/context.tsx'
import { useUnit } from '../../app/units.tsx'
import { got } from '../../data/trouble.ts'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import type { BenchLine } from '../line/useLineNow.ts'
import { hung } from '../masses/hung.ts'
import type { RigChange } from '../useRigChange.ts'
import { Findings } from './Findings.tsx'
import { LiveSteps } from './LiveSteps.tsx'
import { judgeSteps, stepOnRig } from './stepRecords.ts'
import { Weeks } from './Weeks.tsx'

const t = texts.health
const STEPS = Object.keys(t.steps) as HealthStep[]

interface HealthProps {
  readonly kept: Rig
  readonly rig: RigDocument
  readonly mass: Mass | null
  readonly line: BenchLine | null
  readonly change: RigChange['change']
}

/** The check of the rig's health: its steps, from the line or from logs, what was found, and what was found before. */
export function HealthPart({ kept, rig, mass, line, change }: HealthProps) {
  const id = useId()
  const { engine } = useBench()
  const unit = useUnit()
  const [taken, setTaken] = useState<ReadonlyMap<HealthStep, Recording>>(new Map())
  const [judged, setJudged] = useState<{ health: Health; records: readonly HealthRecord[] } | null>(null)
  const [error, setError] = useState<unknown>(null)

  const take = (step: HealthStep, recording: Recording | null): void => {
    setJudged(null)
    setTaken(before => {
      const after = new Map(before)
      if (recording === null) after.delete(step)
      else after.set(step, recording)
      return after
    })
  }
  const open = async (step: HealthStep, file: File): Promise<void> => {
    try {
      const bytes = new Uint8Array(await file.arrayBuffer())
      const recording = got(await engine.parse(bytes, file.name, {}))
      take(step, await stepOnRig(recording, rig))
      setError(null)
    } catch (trouble) {
      setError(trouble)
    }
  }
  const judge = async (): Promise<void> => {
    try {
      const records = STEPS.flatMap(step => {
        const recording = taken.get(step)
        return recording === undefined ? [] : [{ step, recording }]
      })
      const known = mass === null ? null : hung(mass, rig)
      const health = got(await judgeSteps(records, rig, known?.ok ? known.value.appliedN : null, unit))
      setJudged({ health, records })
      setError(null)
    } catch (trouble) {
      setError(trouble)
    }
  }
  const keep = (health: Health): void => {
    const entry = entryOf(health, new Date().toISOString())
    void change(
      kept,
      now => {
        const document = now.document as { health?: readonly HealthEntry[] }
        return { document: { ...document, health: withEntry(document.health ?? [], entry) } }
      },
      t.didKeep,
    )
  }
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{t.heading}</h2>
      <p className="pencil">{t.what}</p>
      <ol className="health-steps">
        {STEPS.map(step => (
          <li key={step}>
            <strong>{t.steps[step].name}</strong>
            <p className="pencil">{t.steps[step].how}</p>
            {taken.has(step) ? (
              <p>
                {t.has(taken.get(step)!.forceN.length)}{' '}
                <button type="button" className="button" onClick={() => take(step, null)}>
                  {t.leaveOut}
                </button>
              </p>
            ) : (
              <div className="field rig-narrow">
                <label htmlFor={`${id}-${step}`}>{t.byLog(t.steps[step].name)}</label>
                <input
                  id={`${id}-${step}`}
                  type="file"
                  className="input"
                  onChange={event => {
                    const file = event.target.files?.[0]
                    if (file) void open(step, file)
                  }}
                />
              </div>
            )}
          </li>
        ))}
      </ol>
      {line && (line.now.mode === 'raw' || line.now.mode === 'rig') && (
        <LiveSteps unit={line.now.unit === 'counts' ? 'counts' : 'N'} onTaken={take} />
      )}
      <Problems error={error} />
      <button type="button" className="button" disabled={taken.size === 0} onClick={() => void judge()}>
        {t.judge}
      </button>
      {taken.size === 0 && <p className="pencil small">{t.nothing}</p>}
      {judged && (
        <>
          <Findings {...judged} unit={unit} />
          <button type="button" className="button" onClick={() => keep(judged.health)}>
            {t.keep}
          </button>
        </>
      )}
      <Weeks kept={kept} rig={rig} />
    </section>
  )
}
