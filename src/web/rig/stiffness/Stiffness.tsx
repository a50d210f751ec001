import { useId, useState } from 'react'
import type { Rig as RigDocument } from '../../../core/calibration/rig.ts'
import { tensionOf } from '../../../core/calibration/rigFacts.ts'
import type { RigStiffness } from '../../../core/calibration/stiffness.ts'
import { decimalsFor, plainNumber, threeDigits } from '../../../core/units/showForce.ts'
import type { Rig } from '../../../server/apiTypes.ts'
import { useBench } from '../../app/context.tsx'
import { useMark } from '../../app/units.tsx'
import { got } from '../../data/trouble.ts'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import { localDay } from '../check/checkNow.ts'
import type { RigChange } from '../useRigChange.ts'
import { stiffnessOfLog } from './stiffnessOfLog.ts'

const t = texts.rig

/** What the rig itself gives, from a log of a pull on a stiff bar. */
export function Stiffness({
  kept,
  rig,
  change,
}: {
  kept: Rig
  rig: RigDocument
  change: RigChange['change']
}) {
  const id = useId()
  const mark = useMark()
  const { engine } = useBench()
  const [found, setFound] = useState<RigStiffness | null>(null)
  const [error, setError] = useState<unknown>(null)
  const read = async (file: File): Promise<void> => {
    setFound(null)
    try {
      const tension = tensionOf(rig)
      const bytes = new Uint8Array(await file.arrayBuffer())
      const recording = got(await engine.parse(bytes, file.name, tension === undefined ? {} : { tension }))
      setFound(got(stiffnessOfLog(recording, rig)))
      setError(null)
    } catch (trouble) {
      setError(trouble)
    }
  }
  const known = rig.stiffness
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{t.stiffness}</h2>
      <p className="pencil">{t.stiffnessWhat}</p>
      {known && <p>{mark(t.stiffnessKnown(stiffnessText(known.nPerMm, known.standardNPerMm)))}</p>}
      <div className="field rig-narrow">
        <label htmlFor={`${id}-file`}>{t.barLog}</label>
        <input
          id={`${id}-file`}
          type="file"
          className="input"
          onChange={event => {
            const file = event.target.files?.[0]
            if (file) void read(file)
          }}
        />
      </div>
      <Problems error={error} />
      {found && (
        <>
          <p>
            {mark(
              t.stiffnessFound({
                value: stiffnessText(found.nPerMm, found.standardNPerMm),
                samples: found.samples,
                from: threeDigits(found.fromN),
                to: threeDigits(found.toN),
                lower: threeDigits(found.lowerNPerMm),
                upper: threeDigits(found.upperNPerMm),
              }),
            )}
          </p>
          <button
            type="button"
            className="button"
            onClick={() =>
              void change(
                kept,
                now => ({
                  document: { ...(now.document as object), stiffness: stiffnessDocument(found) },
                }),
                t.didStiffness,
              ).then(isKept => isKept && setFound(null))
            }
          >
            {t.keepStiffness}
          </button>
        </>
      )}
    </section>
  )
}

const stiffnessDocument = ({ nPerMm, standardNPerMm }: RigStiffness) => ({
  nPerMm,
  standardNPerMm,
  date: localDay(new Date()),
})

function stiffnessText(nPerMm: number, standardNPerMm: number | null): string {
  if (standardNPerMm === null || !(standardNPerMm > 0)) return `${threeDigits(nPerMm)} N/mm`
  const half = 1.96 * standardNPerMm
  const decimals = decimalsFor(half)
  return `${plainNumber(nPerMm, decimals)} ± ${plainNumber(half, decimals)} N/mm`
}
