import type { Link } from './links.ts'

/** Each link drawn in a few strokes, from its left end to its right one, so that the row reads as one chain. */
export const LinkSign = ({ link }: { link: Link }) => (
  <svg className="rig-sign" viewBox="0 0 96 48" preserveAspectRatio="none" aria-hidden="true">
    <path d={STROKES[link]} />
  </svg>
)

const STROKES: Readonly<Record<Link, string>> = {
  // A screw in its nut, then the first grip.
  drive:
    'M0 24H14 M14 14V34H34V14Z M18 14L14 20 M26 14L14 28 M34 16L20 34 M34 26L28 34 M34 24H60 M60 12V36 M60 12H80 M60 36H80 M80 12V20H70 M80 36V28H70 M72 24H96',
  // A strip with a tear begun in it.
  specimen: 'M0 24H8 M8 12H88V36H8Z M46 12L50 18L45 24L50 30 M88 24H96',
  // The second grip, held by the frame.
  frame:
    'M0 24H24 M16 12V20H26 M16 36V28H26 M16 12H36V36H16 M36 24H56 M56 6V42 M56 6H84 M56 42H84 M84 6V42 M84 24H96',
  // A bar with a hole, as cells are milled.
  cell: 'M0 24H10 M10 12H86V36H10Z M34 24a8 8 0 0 1 16 0a8 8 0 0 1-16 0Z M46 24a8 8 0 0 1 16 0a8 8 0 0 1-16 0Z M86 24H96',
  // Four resistors as a diamond.
  converter:
    'M0 24H16 M16 24L48 4L80 24L48 44Z M28 14L34 22 M60 14L66 22 M28 34L34 26 M60 34L66 26 M80 24H96',
  // Numbers on their way.
  line: 'M0 24H8 M8 32V16H20V32H32V16H38V32H50V16H68V32H74V16H86V24H96',
  // A plumb line.
  place: 'M30 4H66 M48 4V28 M48 28L40 36L48 46L56 36Z',
}
