import { type CompareOptions, compareGroups } from '../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen, type Specimen } from '../../src/core/statistics/compare/specimen.ts'
import type { Comparison } from '../../src/core/statistics/document.ts'

const group = (name: string, ...values: number[]): Specimen[] =>
  values.map((value, i) => plainSpecimen(`${name} ${i + 1}`, name, value))
const compared = (specimens: readonly Specimen[], options: Partial<CompareOptions> = {}): Comparison =>
  compareGroups(specimens, { quantity: 'peakForce', unit: 'N', ...options })

/** Studies that a headline has to do justice to, each with what is odd in it. Values are made up. */
export const ODD_STUDIES: readonly { readonly what: string; readonly comparison: Comparison }[] = [
  {
    what: 'None differs: three glues, four specimens of each.',
    comparison: compared([
      ...group('bone glue', 50, 54, 58, 61),
      ...group('fish glue', 52, 55, 57, 60),
      ...group('rice paste', 51, 53, 59, 62),
    ]),
  },
  {
    what: 'One variant only: five stitched handles.',
    comparison: compared(group('stitching', 91, 88, 111, 92, 108)),
  },
  {
    what: 'All censored: no handle broke before the rig ran out of stroke.',
    comparison: compared(
      [...group('stitching', 91, 88, 111, 92, 108), ...group('riveting', 95, 97, 94, 99, 96)].map(one => ({
        ...one,
        status: 'at-least' as const,
      })),
    ),
  },
  {
    what: 'Three specimens each, on a scale that nobody checked.',
    comparison: compared(
      [...group('paste', 20, 21, 22), ...group('hot-melt', 40, 41, 42), ...group('stitching', 60, 61, 62)],
      { warnings: [{ code: 'not-calibrated', text: 'In all 9 readings the scale was not checked.' }] },
    ),
  },
]
