import { useState } from 'react'
import { isNeverBelowZero } from '../../core/answer/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import type { Specimen, SpecimenPatch } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import { useMark } from '../app/units.tsx'
import { useChange } from '../data/queries.ts'
import { Needed } from '../parts/Needed.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import type { Compared } from './comparedStudies.ts'
import { rangedText, type Shown } from './shown.ts'

const t = texts.compare

interface Wish {
  /** Specimens as they were seen: one that was changed elsewhere since is told, and stays as it is. */
  readonly of: readonly Pick<Specimen, 'id' | 'updatedAt'>[]
  readonly patch: SpecimenPatch
}

/** What changes without some specimens, and the way to leave them out for good, with a reason. */
export function WhatIf({
  before,
  after,
  shown,
  left,
  onBack,
}: {
  before: Comparison
  after: Comparison
  shown: Shown
  left: readonly Compared[]
  onBack(): void
}) {
  const [why, setWhy] = useState('')
  const [asked, setAsked] = useState(false)
  const mark = useMark()
  const neverBelow = isNeverBelowZero(before.quantity, before.specimens)
  const foot = useFoot()
  const change = useChange<Wish, Specimen[]>(async (backend, { of, patch }) => {
    const changed: Specimen[] = []
    for (const { id, updatedAt } of of)
      changed.push(await backend.specimens.change(id, { ...patch, basedOn: updatedAt }))
    return changed
  })
  const keep = () => {
    setAsked(true)
    if (why.trim() === '') return
    change.mutate(
      { of: left, patch: { status: 'left-out', statusReason: why.trim() } },
      {
        onSuccess(changed) {
          onBack()
          foot.did(t.leftOut(left.map(({ name }) => name).join(', ')), () =>
            change.mutateAsync({ of: changed, patch: { status: 'pulled', statusReason: '' } }),
          )
        },
      },
    )
  }
  return (
    <section className="compare-try">
      <h2>{t.tryHeading(left.map(({ name }) => name).join(', '))}</h2>
      <table>
        <thead>
          <tr>
            <th>{t.columns.group}</th>
            <th>{t.tryBefore}</th>
            <th>{t.tryAfter}</th>
          </tr>
        </thead>
        <tbody>
          {before.groups.map(group => {
            const now = after.groups.find(({ name }) => name === group.name)
            return (
              <tr key={group.name}>
                <th>{group.name}</th>
                <td>{mark(rangedText(group.mean, group.ci95, shown, neverBelow))}</td>
                <td>{mark(rangedText(now?.mean ?? null, now?.ci95 ?? null, shown, neverBelow))}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
      <p>
        <strong>{t.tryBefore}:</strong> {mark(before.verdict)}
      </p>
      <form
        className="row"
        onSubmit={event => {
          event.preventDefault()
          keep()
        }}
      >
        <button type="button" className="button" onClick={onBack}>
          {t.tryBack}
        </button>
        <label>
          {t.tryKeep}{' '}
          <input
            className="input"
            value={why}
            aria-required="true"
            onChange={event => setWhy(event.target.value)}
          />
        </label>
        <Needed />
        <button type="submit" className="button" disabled={change.isPending}>
          {t.tryKeepButton}
        </button>
      </form>
      {asked && why.trim() === '' && <p className="warning">{t.tryReasonNeeded}</p>}
      <Problems error={change.error} />
    </section>
  )
}
