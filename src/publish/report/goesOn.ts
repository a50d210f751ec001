/**
 * Style of a box that scrolls sideways: while it holds more than is seen, its edge is shaded and an arrow under it
 * points on; both go where its end is reached. It needs no script: a cover that moves with what is in the box lies over
 * the signs while there is nothing more that way. The colours are those of the ground and of the shade.
 */
export const goesOn = (ground: string, shade: string): string => `padding-bottom: 20px; background:
  linear-gradient(${ground}, ${ground}) left / 32px 100% no-repeat local,
  linear-gradient(${ground}, ${ground}) right / 32px 100% no-repeat local,
  ${arrow('m7 3-5 5 5 5M2 8h22')} left bottom / 26px 16px no-repeat scroll,
  ${arrow('m19 3 5 5-5 5M24 8H2')} right bottom / 26px 16px no-repeat scroll,
  linear-gradient(to right, ${shade}, transparent) left / 10px 100% no-repeat scroll,
  linear-gradient(to left, ${shade}, transparent) right / 10px 100% no-repeat scroll;`

/** In a grey that is told from light and dark grounds alike. */
const arrow = (path: string): string =>
  `url("data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 26 16'%3E%3Cpath d='${path}' fill='none' stroke='%23777' stroke-width='2'/%3E%3C/svg%3E")`
