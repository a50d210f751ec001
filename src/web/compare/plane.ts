import type { Comparison } from '../../core/statistics/document.ts'
import type { Compared } from './comparedStudies.ts'
import type { Shown } from './shown.ts'

/** What every part of the screen draws from. */
export interface Plane {
  readonly comparison: Comparison
  readonly shown: Shown
  readonly names: readonly Compared[]
  /** Id of the specimen that is pointed at, anywhere on the screen. */
  readonly hovered: string | null
  /** Ids of those left out for a moment. */
  readonly without: ReadonlySet<string>
  onHover(id: string | null): void
}
