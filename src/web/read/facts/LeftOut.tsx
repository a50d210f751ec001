import { type FormEvent, useState } from 'react'
import type { Specimen } from '../../../server/apiTypes.ts'
import { texts } from '../../texts/index.ts'
import { Field } from '../adjust/Field.tsx'
import type { useSpecimenChange } from './useSpecimenChange.ts'

const words = texts.read.facts

/** Takes a specimen out of the figures, with the reason, and in again. It stays in sight everywhere. */
export function LeftOut({
  specimen,
  change,
}: {
  specimen: Specimen
  change: ReturnType<typeof useSpecimenChange>
}) {
  const [isAsking, setAsking] = useState(false)
  const [why, setWhy] = useState('')
  const [isMissing, setMissing] = useState(false)
  if (specimen.status === 'left-out')
    return (
      <div className="row">
        <p className="warning">{words.leftOutBecause(specimen.statusReason)}</p>
        <button type="button" className="button" onClick={change.takeIn}>
          {words.takeIn}
        </button>
      </div>
    )
  if (!isAsking)
    return (
      <button type="button" className="button" onClick={() => setAsking(true)}>
        {words.leaveOut}
      </button>
    )
  const leave = (event: FormEvent) => {
    event.preventDefault()
    if (why.trim() === '') {
      setMissing(true)
      return
    }
    change.leaveOut(why.trim())
    setAsking(false)
    setWhy('')
  }
  return (
    <form className="read-form" onSubmit={leave} aria-label={words.leaveOut}>
      <Field
        label={words.leaveOutWhy}
        isNeeded
        value={why}
        fault={isMissing ? words.whyMissing : null}
        onValue={text => {
          setWhy(text)
          setMissing(false)
        }}
      />
      <div className="row">
        <button type="submit" className="button button-main">
          {words.leaveOutNow}
        </button>
        <button type="button" className="button" onClick={() => setAsking(false)}>
          {texts.read.adjust.leave}
        </button>
      </div>
    </form>
  )
}
