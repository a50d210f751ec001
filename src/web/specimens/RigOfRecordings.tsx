import { useId, useState } from 'react'
import { Link } from 'wouter'
import type { Specimen } from '../../server/apiTypes.ts'
import { addressOf } from '../app/places.ts'
import type { OpenStudy } from '../data/backend.ts'
import { useRigs } from '../data/queries.ts'
import { texts } from '../texts/index.ts'
import { useCalibrationsOf } from './useCalibrationsOf.ts'
import type { SpecimenEdits } from './useSpecimenEdits.ts'

const t = texts.specimens
/** Of the part of the table that names the rig. */
export const RIG_OF_SPECIMENS_ID = 'specimens-rig'
const words = texts.read.facts

/**
 * The rig that recordings were made on and which of its calibrations counts, said afterwards too: of the chosen specimens,
 * else of all, in a range of days.
 */
export function RigOfRecordings({
  open,
  chosen,
  edits,
}: {
  open: OpenStudy
  chosen: readonly Specimen[]
  edits: SpecimenEdits
}) {
  const id = useId()
  const { data: rigs = [] } = useRigs()
  const [rig, setRig] = useState<string | null>(null)
  const [calibration, setCalibration] = useState<string | null>(null)
  const [from, setFrom] = useState('')
  const [to, setTo] = useState('')
  const ids = new Set((chosen.length > 0 ? chosen : open.specimens).map(one => one.id))
  const meant = open.recordings.filter(({ specimen, startedAt, setAside }) => {
    const day = startedAt?.slice(0, 10) ?? null
    return (
      ids.has(specimen?.id ?? '') &&
      setAside === null &&
      // A recording whose day is not known is in no range of days.
      (from === '' || (day !== null && day >= from)) &&
      (to === '' || (day !== null && day <= to))
    )
  })
  // Where they say several things nothing is chosen, and nothing is kept before a person chooses.
  const rigNow = rig ?? onlyOne(meant.map(({ rigId }) => rigId ?? ''))
  const chosenRig = rigs.find(one => one.id === rigNow) ?? null
  const calibrations = useCalibrationsOf(chosenRig)
  const known = calibration ?? (rig === null ? onlyOne(meant.map(one => one.calibration ?? '')) : '')
  const calibrationNow = known === SEVERAL || calibrations.some(({ key }) => key === known) ? known : ''
  const isOpen = rigNow === SEVERAL || (calibrations.length > 0 && calibrationNow === SEVERAL)
  if (open.recordings.length === 0) return null
  const keep = () => {
    const name = chosenRig?.name ?? words.noRig
    const of = calibrations.find(({ key }) => key === calibrationNow)
    void edits.apply(
      [
        {
          kind: 'rig',
          recordingIds: meant.map(one => one.id),
          rigId: chosenRig?.id ?? null,
          calibration: of?.key ?? null,
        },
      ],
      words.rigSaid(meant.length, of ? t.rigWith(name, of.name) : name),
    )
  }
  return (
    <details className="folded" id={RIG_OF_SPECIMENS_ID}>
      <summary>{t.rigHeading}</summary>
      {rigs.length === 0 && (
        <p>
          {t.noRigYet} <Link href={addressOf.place(open.study.id, 'rig')}>{t.describeRig}</Link>
        </p>
      )}
      <div className="specimens-rig">
        <div className="field">
          <label htmlFor={id}>{words.rig}</label>
          <select
            id={id}
            className="input"
            value={rigNow}
            onChange={event => {
              setRig(event.target.value)
              setCalibration(null)
            }}
          >
            {rigNow === SEVERAL && (
              <option value={SEVERAL} disabled>
                {t.severalRigs}
              </option>
            )}
            <option value="">{words.noRig}</option>
            {rigs.map(one => (
              <option key={one.id} value={one.id}>
                {one.name}
              </option>
            ))}
          </select>
        </div>
        {calibrations.length > 0 && (
          <div className="field">
            <label htmlFor={`${id}-calibration`}>{t.calibration}</label>
            <select
              id={`${id}-calibration`}
              className="input"
              value={calibrationNow}
              onChange={event => setCalibration(event.target.value)}
            >
              {calibrationNow === SEVERAL && (
                <option value={SEVERAL} disabled>
                  {t.severalCalibrations}
                </option>
              )}
              <option value="">{t.byDay}</option>
              {calibrations.map(one => (
                <option key={one.key} value={one.key}>
                  {t.calibrationInUnit(one.name, one.unit)}
                </option>
              ))}
            </select>
          </div>
        )}
        <div className="field">
          <label htmlFor={`${id}-from`}>{t.from}</label>
          <input
            id={`${id}-from`}
            className="input"
            type="date"
            value={from}
            onChange={event => setFrom(event.target.value)}
          />
        </div>
        <div className="field">
          <label htmlFor={`${id}-to`}>{t.to}</label>
          <input
            id={`${id}-to`}
            className="input"
            type="date"
            value={to}
            onChange={event => setTo(event.target.value)}
          />
        </div>
        <button
          type="button"
          className="button"
          disabled={meant.length === 0 || isOpen || edits.isBusy}
          onClick={keep}
        >
          {t.keepRig}: {t.rigOf(meant.length)}
        </button>
      </div>
    </details>
  )
}

/** No id of a rig and no key of a calibration. */
const SEVERAL = '*'

/** What all of them say, `''` for nothing; `SEVERAL` where they say several things. */
const onlyOne = (all: readonly string[]): string => {
  const [one, ...others] = new Set(all)
  return others.length > 0 ? SEVERAL : (one ?? '')
}
