import { useMemo, useState } from 'react'
import { withPractice } from '../../core/reading/practice.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import { useMark } from '../app/units.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { Curve } from '../parts/Curve.tsx'
import type { CurveLine, CurveTick } from '../parts/curve/types.ts'
import { texts } from '../texts/index.ts'
import { keyOf } from './comparedStudies.ts'
import { ALIGNS, type Align, plainLine, type Style, wholeOf } from './overlayLines.ts'
import type { Plane } from './plane.ts'
import { type LoadedCurve, useOverlayCurves } from './useOverlayCurves.ts'
import { variantStyle } from './variantStyle.ts'

const t = texts.compare

/** The curves of all specimens over one another, put together where the person says. */
export function Overlay({
  opens,
  unit,
  comparison,
  names,
  hovered,
  without,
  onHover,
}: Plane & { opens: readonly OpenStudy[]; unit: ForceUnit }) {
  const [align, setAlign] = useState<Align>('start')
  const { curves, wanted } = useOverlayCurves(opens)
  const mark = useMark()
  const groupOf = useMemo(() => new Map(names.map(({ id, group }) => [id, group])), [names])
  // Those that count: one without a variant, left out or on another scale is in no figure.
  const counting = useMemo(() => {
    const keys = new Set(comparison.specimens.filter(({ dropped }) => dropped === null).map(keyOf))
    return new Set(names.filter(name => keys.has(keyOf(name))).map(({ id }) => id))
  }, [comparison, names])
  const shown = useMemo(
    () => curves.filter(({ id }) => counting.has(id) && !without.has(id)),
    [curves, counting, without],
  )
  const plain = useMemo(() => {
    const nameOf = new Map(names.map(({ id, name }) => [id, name]))
    return shown.map(curve => plainLine(curve, align, withPractice(nameOf.get(curve.id) ?? '', comparison)))
  }, [shown, align, names, comparison])
  const styles = comparison.groups.map((_, index) => lineStyle(index))
  const styleOf = new Map(comparison.groups.map(({ name }, index) => [name, styles[index]]))
  const lines = plain.map(
    (line): CurveLine => ({
      ...line,
      ...(styleOf.get(groupOf.get(line.id) ?? '') ?? styles[0] ?? lineStyle(0)),
      // Over all others: the one that is pointed at.
      ...(line.id === hovered && FRONT),
    }),
  )
  const whole = useMemo(() => wholeOf(shown, align), [shown, align])
  const ticks = useMemo(
    () =>
      comparison.groups.flatMap(({ name }, index) =>
        groupTick(name, withPractice(name, comparison), index, shown, groupOf, align),
      ),
    [comparison, shown, groupOf, align],
  )
  const [first] = shown
  const along = t.against[first?.against ?? 'loading-time']
  const pointed = names.find(({ id }) => id === hovered)
  return (
    <section>
      <h2>{t.overlayHeading}</h2>
      <label className="not-printed">
        {t.align}{' '}
        <select
          className="input compare-align"
          value={align}
          onChange={event => setAlign(ALIGNS.find(one => one === event.target.value) ?? 'start')}
        >
          {ALIGNS.map(one => (
            <option key={one} value={one}>
              {t.aligns[one]}
            </option>
          ))}
        </select>
      </label>
      {curves.length < wanted && (
        <p className="pencil" role="status">
          {t.loadingCurves(curves.length, wanted)}
        </p>
      )}
      {shown.length > 0 && (
        <div className="compare-overlay">
          <Curve
            whole={whole}
            lines={lines}
            unit={unit}
            along={along}
            alongUnit={along.endsWith('mm') ? 'mm' : 's'}
            label={t.overlayHeading}
            description={mark(t.overlayLabel(shown.length))}
            bands={[]}
            ticks={ticks}
            onTick={onHover}
          />
        </div>
      )}
      <p className="pencil compare-pointed" aria-live="polite">
        {pointed && withPractice(`${pointed.group}, ${pointed.name}`, comparison)}
      </p>
    </section>
  )
}

function lineStyle(group: number): Style {
  const { colour, dashes } = variantStyle(group)
  return { colour, widthPx: 1.5, dashes: dashes === '' ? [] : dashes.split(' ').map(Number) }
}

const FRONT = { colour: '--ink', widthPx: 3, front: true } as const

/** A variant's name, on the curve of its that has the middle peak. */
function groupTick(
  group: string,
  label: string,
  index: number,
  curves: readonly LoadedCurve[],
  groupOf: ReadonlyMap<string, string>,
  align: Align,
): CurveTick[] {
  const own = curves
    .filter(({ id }) => groupOf.get(id) === group)
    .map(curve => ({ curve, topN: curve.forceN.reduce((a, b) => Math.max(a, b), 0) }))
    .sort((a, b) => a.topN - b.topN)
  const middle = own[own.length >> 1]
  if (!middle) return []
  const { id, origins } = middle.curve
  return [
    {
      id,
      at: origins.peak - origins[align],
      forceN: middle.topN,
      label,
      title: label,
      weight: 100 - index,
      number: index + 1,
    },
  ]
}
