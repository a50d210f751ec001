import { scaleLinear } from 'd3-scale'
import type { TimeLine } from '../../core/statistics/timeLine/document.ts'
import { sideAxis } from './axes.ts'
import { headLines } from './headLines.ts'
import { LIGHT, type Look } from './look.ts'
import { line, px, type Svg, svgDocument, tag, words } from './svg.ts'
import { brokenTo } from './textWidth.ts'

const DAY_MS = 86_400_000
const TRACK_HEIGHT_PX = 150
const GAP_PX = 34

interface Track {
  readonly name: string
  readonly label: string
  readonly points: readonly { readonly at: number; readonly value: number }[]
  /** Level of the first stretch, and from each change on. */
  readonly levels: readonly { readonly from: number; readonly to: number; readonly value: number }[]
  /** Whether its points are joined. */
  readonly isJoined: boolean
}

/** Control variant, daily checks and re-readings under one another over the days, with what each change says. */
export function timeLineFigure(
  given: TimeLine,
  { look = LIGHT, width = 960 }: { look?: Look; width?: number } = {},
): string {
  const { small, label } = look.size
  const tracks = tracksOf(given).filter(track => track.points.length > 0)
  const left = 5 * small
  const right = width - 16
  const head = headLines(titleOf(given), { x: 8, y: 8 + look.size.heading, width: width - 16, look })
  const top = 24 + head.height + 2 * small
  const ats = tracks.flatMap(track => track.points.map(p => p.at))
  const [first, last] = ats.length > 0 ? [Math.min(...ats), Math.max(...ats)] : [0, 1]
  const x = scaleLinear([first, Math.max(last, first + 1)], [left + 12, right - 12])
  const bottomOf = (i: number): number => top + (i + 1) * TRACK_HEIGHT_PX + i * GAP_PX
  const foot = tracks.length === 0 ? top : bottomOf(tracks.length - 1)
  const notes = given.findings.flatMap(({ text }, i) =>
    brokenTo(`${i + 1}  ${text}`, width - 16, small).map(one => one),
  )
  const height = foot + 3 * small + (notes.length + 1) * (small + 5) + 8
  return svgDocument(
    {
      width,
      height,
      look,
      title: `${given.control.name}, daily checks and readings over the days`,
      description: given.verdict,
    },
    head.svg,
    ...tracks.flatMap((track, i) => drawn(track, { x, bottom: bottomOf(i), left, right, look })),
    ...given.findings.map(({ from }, i) => {
      const at = x(dayNumber(from))
      return tag(
        'g',
        {},
        line(at, top - 6, at, foot, { stroke: look.warning, 'stroke-dasharray': '5 4' }),
        words(at + 4, top - 8, String(i + 1), { fill: look.warning, 'font-size': label, 'font-weight': 700 }),
      )
    }),
    ...(ats.length === 0 ? [] : dates([first, last], x, foot + 6 + small, look)),
    ...notes.map((text, i) =>
      words(8, foot + 3.6 * small + i * (small + 5), text, { 'font-size': small, fill: look.ink }),
    ),
  )
}

/** Heading: the first change, or that none is told. */
const titleOf = ({ findings, control }: TimeLine): string =>
  findings.length === 0
    ? `No change is told on the line of ${control.name}`
    : `${findings.map(({ code, from }) => `${from}: ${TITLES[code]}`).join('; ')}`

const TITLES = {
  'specimens-changed': 'the specimens changed',
  'rig-changed': 'the rig changed',
  'both-changed': 'rig and specimens changed',
  'reading-changed': 'the reading changed',
  'not-told': 'something changed',
} as const satisfies Record<TimeLine['findings'][number]['code'], string>

const dayNumber = (day: string): number => Date.parse(day.slice(0, 10)) / DAY_MS

function tracksOf({ control, checks, readAgain }: TimeLine): Track[] {
  const track = (
    name: string,
    label: string,
    days: readonly { readonly day: string; readonly value: number }[],
    changes: TimeLine['control']['changes'],
  ): Track => {
    const points = days.map(({ day, value }) => ({ at: dayNumber(day), value }))
    const starts = [Number.NEGATIVE_INFINITY, ...changes.map(({ from }) => dayNumber(from))]
    const levels = starts.flatMap((from, i) => {
      const own = points.filter(p => p.at >= from && p.at < (starts[i + 1] ?? Number.POSITIVE_INFINITY))
      return own.length === 0
        ? []
        : [
            {
              from: own[0]!.at,
              to: own.at(-1)!.at,
              value: own.reduce((sum, p) => sum + p.value, 0) / own.length,
            },
          ]
    })
    return { name, label, points, levels, isJoined: true }
  }
  return [
    track(
      control.name,
      'control, %',
      control.days.map(({ day, pct }) => ({ day, value: pct })),
      control.changes,
    ),
    track(
      'daily checks',
      'check error, %',
      checks.days.map(({ day, errorPct }) => ({ day, value: errorPct })),
      checks.changes,
    ),
    {
      name: 'read again',
      label: 'read again, %',
      points: readAgain.map(({ at, meanPct }) => ({ at: dayNumber(at), value: meanPct })),
      levels: [],
      isJoined: false,
    },
  ]
}

function drawn(
  { name, label, points, levels, isJoined }: Track,
  {
    x,
    bottom,
    left,
    right,
    look,
  }: { x: (at: number) => number; bottom: number; left: number; right: number; look: Look },
): Svg[] {
  const values = [0, ...points.map(p => p.value)]
  const margin = Math.max(0.05, 0.12 * (Math.max(...values) - Math.min(...values)))
  const y = scaleLinear(
    [Math.min(...values) - margin, Math.max(...values) + margin],
    [bottom, bottom - TRACK_HEIGHT_PX],
  )
  return [
    line(left, y(0), right, y(0), { stroke: look.rule }),
    sideAxis(y, left, { look, label, ticks: 4 }),
    ...(isJoined
      ? [
          tag('polyline', {
            points: points.map(p => `${px(x(p.at))},${px(y(p.value))}`).join(' '),
            fill: 'none',
            stroke: look.faint,
          }),
        ]
      : []),
    ...levels.map(level =>
      line(x(level.from) - 6, y(level.value), x(level.to) + 6, y(level.value), {
        stroke: look.accent,
        'stroke-width': 2,
      }),
    ),
    ...points.map(p =>
      tag(
        'circle',
        { cx: x(p.at), cy: y(p.value), r: 4, fill: look.paper, stroke: look.ink, 'stroke-width': 1.5 },
        tag('title', {}, name),
      ),
    ),
  ]
}

function dates(ends: readonly [number, number], x: (at: number) => number, y: number, look: Look): Svg[] {
  return [...new Set(ends)].map((at, i) =>
    words(x(at), y, new Date(at * DAY_MS).toISOString().slice(0, 10), {
      'text-anchor': i === 0 ? 'start' : 'end',
      'font-size': look.size.small,
      fill: look.pencil,
    }),
  )
}
