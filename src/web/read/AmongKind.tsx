import { useMemo } from 'react'
import { withPractice } from '../../core/reading/practice.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import { plainLine, wholeOf } from '../compare/overlayLines.ts'
import { useOverlayCurves } from '../compare/useOverlayCurves.ts'
import type { OpenStudy } from '../data/backend.ts'
import { Curve } from '../parts/Curve.tsx'
import type { CurveLine } from '../parts/curve/types.ts'
import { texts } from '../texts/index.ts'
import { ofItsKind } from './ofItsKind.ts'

const words = texts.read.kind
const OWN = { colour: '--accent', widthPx: 3, front: true } as const
const OTHER = { colour: '--faint', widthPx: 1 } as const

/** The curve of a specimen over those of the others of its variant, put together at the start of loading. */
export function AmongKind({
  open,
  specimenId,
  unit,
}: {
  open: OpenStudy
  specimenId: string
  unit: ShownUnit
}) {
  const opens = useMemo(() => [ofItsKind(open, specimenId)], [open, specimenId])
  const { curves, wanted } = useOverlayCurves(opens)
  const nameOf = useMemo(() => {
    const own = new Map(open.readings.map(({ specimenId, reading }) => [specimenId, reading]))
    return new Map(
      open.specimens.map(({ id, name }) => [id, withPractice(name, own.get(id) ?? { warnings: [] })]),
    )
  }, [open])
  const lines = useMemo(
    () =>
      curves.map(
        (curve): CurveLine => ({
          ...plainLine(curve, 'start', nameOf.get(curve.id) ?? ''),
          ...(curve.id === specimenId ? OWN : OTHER),
        }),
      ),
    [curves, nameOf, specimenId],
  )
  const whole = useMemo(() => wholeOf(curves, 'start'), [curves])
  const along = texts.compare.against[curves[0]?.against ?? 'loading-time']
  return (
    <>
      <p className="pencil">{words.legend(nameOf.get(specimenId) ?? '', Math.max(0, wanted - 1))}</p>
      {curves.length < wanted && (
        <p className="pencil" role="status">
          {texts.compare.loadingCurves(curves.length, wanted)}
        </p>
      )}
      {curves.length > 0 && (
        <Curve
          whole={whole}
          lines={lines}
          unit={unit}
          along={along}
          alongUnit={along.endsWith('mm') ? 'mm' : 's'}
          label={words.heading}
          description={texts.compare.overlayLabel(curves.length)}
          bands={[]}
        />
      )}
    </>
  )
}
