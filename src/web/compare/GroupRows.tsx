import { type ScaleLinear, scaleLinear } from 'd3-scale'
import { answerIn } from '../../core/answer/answerOf.ts'
import type { RankedVariant } from '../../core/answer/document.ts'
import {
  differenceWords,
  isNeverBelowZero,
  notBelow,
  placeWords,
  valueWords,
} from '../../core/answer/words.ts'
import { withPractice } from '../../core/reading/practice.ts'
import type { ComparedGroup, ComparedSpecimen } from '../../core/statistics/document.ts'
import { axisText } from '../../publish/figure/axisText.ts'
import { modesOf } from '../../publish/figure/modes.ts'
import { useMark } from '../app/units.tsx'
import { useWidth } from '../parts/useWidth.ts'
import { texts } from '../texts/index.ts'
import { keyOf } from './comparedStudies.ts'
import { levelsOf, rangeOf } from './dots.ts'
import { Mark } from './Mark.tsx'
import type { Plane } from './plane.ts'
import { rangedText, type Shown } from './shown.ts'
import { variantStyle } from './variantStyle.ts'

const t = texts.compare
const DOT_PX = 7
/** Of the button over a dot: what a finger hits. */
const TARGET_PX = 28
const SIDE_PX = 16
const TICKS = 6

/**
 * The ranking as a figure: a line for each variant, best first, with every specimen as a mark with its doubt, and beneath
 * them the mean with its interval.
 */
export function GroupRows(plane: Plane & { onToggle(id: string): void }) {
  const { comparison, shown } = plane
  const { ref, width } = useWidth()
  const mark = useMark()
  const range = rangeOf(comparison, shown.per)
  const x = scaleLinear(range ?? [0, 1], [SIDE_PX, Math.max(SIDE_PX + 1, width - SIDE_PX)]).nice()
  const modes = modesOf(comparison)
  return (
    <section className="compare-ranking">
      <h2 className="hidden-words">{t.groupsHeading}</h2>
      {modes.length > 1 && (
        <ul className="row plain-list small">
          {modes.map((mode, i) => (
            <li key={mode ?? ''}>
              <svg width="16" height="16" viewBox="-8 -8 16 16" aria-hidden="true">
                <Mark mode={i} x={0} y={0} open={false} colour="var(--ink)" size={5} />
              </svg>{' '}
              {mode ?? '–'}
            </li>
          ))}
        </ul>
      )}
      <div ref={ref}>
        {answerIn(comparison).ranking.map(ranked => {
          const index = comparison.groups.findIndex(({ name }) => name === ranked.name)
          const group = comparison.groups[index]
          return (
            group && (
              <Row
                key={ranked.name}
                {...plane}
                ranked={ranked}
                group={group}
                index={index}
                modes={modes}
                x={x}
                width={width}
              />
            )
          )
        })}
        <svg width={width} height="28" className="compare-axis" aria-hidden="true">
          {x.ticks(TICKS).map(value => (
            <text key={value} x={x(value)} y="18" textAnchor="middle">
              {mark(axisText(value))}
            </text>
          ))}
        </svg>
        <p className="pencil small compare-axis-name">
          {t.quantities[comparison.quantity as keyof typeof t.quantities]}
          {shown.unit === '' ? '' : `, ${shown.unit}`}
        </p>
        <p className="pencil small not-printed">{t.dotHelp}</p>
      </div>
    </section>
  )
}

interface RowProps extends Plane {
  readonly ranked: RankedVariant
  readonly group: ComparedGroup
  readonly index: number
  readonly modes: readonly (string | null)[]
  readonly x: ScaleLinear<number, number>
  readonly width: number
  onToggle(id: string): void
}

function Row({ ranked, group, index, modes, x, width, onToggle, ...plane }: RowProps) {
  const { comparison, shown, names } = plane
  const mark = useMark()
  const own = comparison.specimens.filter(({ group: of, value }) => of === group.name && value !== null)
  const xs = own.map(({ value }) => x((value ?? 0) / shown.per))
  const levels = levelsOf(xs, DOT_PX * 2 + 2)
  const depth = Math.max(0, ...levels) * (DOT_PX * 2 + 2)
  const dotsY = 16 + depth
  const meanY = dotsY + 28
  const neverBelow = isNeverBelowZero(comparison.quantity, comparison.specimens)
  const interval = group.ci95 && notBelow(group.ci95, neverBelow)
  const { colour } = variantStyle(index)
  const yOf = (i: number): number => dotsY - (levels[i] ?? 0) * (DOT_PX * 2 + 2)
  const idOf = (specimen: ComparedSpecimen): string | null =>
    names.find(name => keyOf(name) === keyOf(specimen))?.id ?? null
  return (
    <div className="compare-row">
      <div className="compare-ranked" title={t.intervalTitle}>
        <span className="pencil compare-place">{placeWords(ranked.place)}</span>
        <h3>
          <span className="compare-swatch" style={{ background: colour }} />{' '}
          {withPractice(group.name, comparison)}
        </h3>
        <strong className="compare-value">{mark(valueWords(ranked, shown, neverBelow))}</strong>
        <span className="compare-ahead">{mark(differenceWords(ranked.difference, shown))}</span>
      </div>
      <div className="compare-plot">
        <svg width={width} height={meanY + 18} aria-hidden="true">
          {x.ticks(TICKS).map(value => (
            <line key={value} x1={x(value)} x2={x(value)} y1="0" y2={meanY + 18} className="compare-rule" />
          ))}
          {own.map((specimen, i) => (
            <Dot
              key={specimen.name}
              specimen={specimen}
              shown={shown}
              mode={modes.indexOf(specimen.mode)}
              at={{ x: xs[i] ?? 0, y: yOf(i) }}
              x={x}
              colour={colour}
              neverBelow={neverBelow}
              isHovered={plane.hovered !== null && plane.hovered === idOf(specimen)}
            />
          ))}
          {interval && (
            <line
              x1={x(interval[0] / shown.per)}
              x2={x(interval[1] / shown.per)}
              y1={meanY}
              y2={meanY}
              stroke={colour}
              strokeWidth="3"
            />
          )}
          {group.mean !== null && (
            <line
              x1={x(group.mean / shown.per)}
              x2={x(group.mean / shown.per)}
              y1={meanY - 9}
              y2={meanY + 9}
              stroke={colour}
              strokeWidth="3"
            />
          )}
        </svg>
        {own.map((specimen, i) => {
          const id = idOf(specimen)
          const words = mark(withPractice(dotWords(specimen, shown, neverBelow), comparison))
          return (
            <button
              key={specimen.name}
              type="button"
              className="compare-dot"
              style={{ left: (xs[i] ?? 0) - TARGET_PX / 2, top: yOf(i) - TARGET_PX / 2 }}
              aria-label={words}
              aria-pressed={id !== null && plane.without.has(id)}
              title={words}
              onClick={() => id !== null && onToggle(id)}
              onPointerEnter={() => plane.onHover(id)}
              onPointerLeave={() => plane.onHover(null)}
              onFocus={() => plane.onHover(id)}
              onBlur={() => plane.onHover(null)}
            />
          )
        })}
      </div>
    </div>
  )
}

interface DotProps {
  readonly specimen: ComparedSpecimen
  readonly shown: Shown
  readonly mode: number
  readonly at: { readonly x: number; readonly y: number }
  readonly x: ScaleLinear<number, number>
  readonly colour: string
  readonly neverBelow: boolean
  readonly isHovered: boolean
}

/** One specimen with its doubt; open with an arrow where it only reached its value, struck through where it does not count. */
function Dot({ specimen, shown, mode, at, x, colour, neverBelow, isHovered }: DotProps) {
  const { status, suspect, dropped } = specimen
  const ends = endsOf(specimen)
  const [low, high] = ends === null ? [null, null] : notBelow(ends, neverBelow)
  return (
    <g>
      {isHovered && <circle cx={at.x} cy={at.y} r="13" className="compare-halo" />}
      {low !== null && high !== null && (
        <line x1={x(low / shown.per)} x2={x(high / shown.per)} y1={at.y} y2={at.y} stroke={colour} />
      )}
      <Mark mode={mode} x={at.x} y={at.y} open={status !== 'measured'} colour={colour} size={DOT_PX - 1} />
      {status !== 'measured' && (
        <path d={`M${at.x + 8} ${at.y}h14m-5 -4l5 4l-5 4`} fill="none" stroke={colour} strokeWidth="1.5" />
      )}
      {suspect && <circle cx={at.x} cy={at.y} r="11" fill="none" stroke={colour} strokeDasharray="3 2" />}
      {dropped !== null && <path d={`M${at.x - 9} ${at.y + 9}l18 -18`} stroke="var(--ink)" strokeWidth="2" />}
    </g>
  )
}

const endsOf = ({ low, high }: ComparedSpecimen): readonly [number, number] | null =>
  low === null || high === null ? null : [low, high]

/** `paste-3: 68.2 ± 1.3 kgf, failed by: paste peeled`. */
function dotWords(specimen: ComparedSpecimen, shown: Shown, neverBelow: boolean): string {
  const { name, status, value, mode, dropped, suspect } = specimen
  const figure = rangedText(value, endsOf(specimen), shown, neverBelow)
  return [
    `${name}: ${[t.status[status], figure].filter(Boolean).join(' ')}`,
    mode === null ? null : `${t.columns.mode}: ${mode}`,
    suspect ? t.standsApart : null,
    dropped,
  ]
    .filter(part => part !== null)
    .join(', ')
}
