import { memo, useMemo } from 'react'
import { readingDescription } from '../../core/reading/peakWords.ts'
import { saysPractice } from '../../core/reading/practice.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import { useBench } from '../app/context.tsx'
import { useMark } from '../app/units.tsx'
import { got } from '../data/trouble.ts'
import type { CurveKind, Engine, JoinedLook, Look, LookAt } from '../engine/types.ts'
import { Curve } from '../parts/Curve.tsx'
import type { CurveLine, CurveMovable } from '../parts/curve/types.ts'
import type { View } from '../parts/curve/view.ts'
import { texts } from '../texts/index.ts'
import { type Axis, levelsOf, peakOf, seamsOf, ticksOf } from './curveMarks.ts'

export interface Shown {
  readonly look: Look
  readonly at: LookAt
}

/** The curve of a specimen: as it was recorded and as it is read, over time or as one joined curve. */
export const ReadCurve = memo(function ReadCurve({
  shown,
  before,
  unit,
  joined,
  part,
  isJoined,
  onJoined,
  view,
  onView,
  stretch,
  onStretch,
  marking,
  onEvent,
}: {
  shown: Shown
  /** The reading that is kept, where another is tried. */
  before: Shown | null
  unit: ShownUnit
  /** Given, the pulls are drawn as one curve over its own axis. */
  joined: JoinedLook | null
  /** What is moved along the joined curve. */
  part: CurveMovable | null
  /** Whether it is wished so: the joined curve may still be on its way. */
  isJoined: boolean
  onJoined: (isJoined: boolean) => void
  view: View | null
  onView: (view: View | null) => void
  stretch: View | null
  onStretch: (stretch: View) => void
  marking: boolean
  onEvent: (id: string) => void
}) {
  const { engine } = useBench()
  const mark = useMark()
  const { look } = shown
  const { reading } = look
  const axis = useMemo<Axis>(() => (joined ? { kind: 'joined', joined } : { kind: 'time' }), [joined])
  const lines = useMemo(() => linesOf(engine, shown, before, axis), [engine, shown, before, axis])
  const ticks = useMemo(() => ticksOf(reading, unit, axis, mark), [reading, unit, axis, mark])
  const peak = useMemo(() => peakOf(reading, unit, axis, mark), [reading, unit, axis, mark])
  const levels = useMemo(() => levelsOf(reading, unit, mark), [reading, unit, mark])
  const overTime = axis.kind === 'time'
  const { startS, endS } = reading.recording
  const whole = overTime ? { from: startS, to: endS > startS ? endS : startS + 1 } : axis.joined
  const selvedge = overTime ? look.selvedge : axis.joined.selvedge
  const bands = useMemo(
    () => selvedge.map(({ kind, fromS, toS }) => ({ kind, from: fromS, to: toS })),
    [selvedge],
  )
  return (
    <Curve
      whole={whole}
      lines={lines}
      unit={unit}
      along={overTime ? texts.read.time : texts.read.along(axis.joined.against, axis.joined.unit)}
      alongUnit={overTime ? 's' : axis.joined.unit}
      label={texts.read.curveOf(shown.at.facts.name ?? '')}
      description={mark(readingDescription(reading, unit))}
      bands={bands}
      ticks={ticks}
      peak={peak}
      levels={overTime ? levels : []}
      seams={overTime ? [] : seamsOf(axis.joined)}
      view={view}
      onView={onView}
      stretch={overTime ? stretch : null}
      {...(overTime && { onStretch })}
      marking={marking && overTime}
      part={overTime ? null : part}
      onTick={onEvent}
    >
      <button type="button" className="button" aria-pressed={isJoined} onClick={() => onJoined(!isJoined)}>
        {texts.read.asOne}
      </button>
      {saysPractice(reading) && <strong className="warning">{texts.read.practice}</strong>}
      <span className="pencil small">
        {texts.read.legend[overTime ? 'time' : 'joined']}
        {before && texts.read.legendBefore}
      </span>
    </Curve>
  )
})

/** Raw faint, what was kept before dashed, and the reading strong. */
function linesOf(engine: Engine, { look, at }: Shown, before: Shown | null, axis: Axis): CurveLine[] {
  const line = (
    id: string,
    kind: CurveKind,
    from: { look: string; at: LookAt },
    drawn: Pick<CurveLine, 'colour' | 'widthPx' | 'dashes'>,
  ): CurveLine => ({
    id,
    version: from.look,
    label: texts.read.lines[kind],
    ...drawn,
    slice: async (fromX, toX, pixels) =>
      got(await engine.curve(from.at, kind, { from: fromX, to: toX, pixels })),
  })
  const now = { look: look.look, at }
  const kind = axis.kind === 'time' ? 'corrected' : 'joined'
  return [
    ...(axis.kind === 'time'
      ? [line('raw', 'raw', { look: JSON.stringify(at.source), at }, { colour: '--faint', widthPx: 1 })]
      : []),
    ...(before && before.look.look !== look.look
      ? [
          line(
            `before ${kind}`,
            kind,
            { look: before.look.look, at: before.at },
            {
              colour: '--pencil',
              widthPx: 1.5,
              dashes: [5, 4],
            },
          ),
        ]
      : []),
    line(kind, kind, now, { colour: '--accent', widthPx: 2 }),
  ]
}
