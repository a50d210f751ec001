import { printable } from '../../core/printable.ts'
import { pText } from '../../core/statistics/compare/words.ts'
import type { Plan } from '../../core/statistics/plan/document.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import { aligned } from '../compare/columnsText.ts'
import type { Io } from '../io.ts'
import { pen, wrapped } from '../terminal.ts'

/** Blocks printed; the whole order is in the document. */
const MOST_BLOCKS = 40

/** A plan for people: the number first, then why, the order as a checklist, and the rig. */
export function planText(plan: Plan, io: Io): string {
  const stroke = pen(io)
  const columns = Math.max(40, Math.min(io.columns, 100))
  const paragraph = (text: string, indent = '') => wrapped(printable(text, 4000), columns, indent)
  const parts = [
    stroke('strong', paragraph(plan.because)),
    stroke('pencil', paragraph(`Scatter: ${plan.scatter.text}.`)),
    plan.looks ? paragraph(plan.looks.text) : '',
    advicePart(plan, columns),
    plan.blocks.length > 0 ? orderPart(plan) : '',
    plan.rig
      .map(c => stroke(c.ok ? 'pencil' : 'warning', paragraph(`${c.ok ? '✓' : '!'} ${c.text}`, '  ')))
      .join('\n'),
    plan.warnings.map(w => stroke('warning', paragraph(`! ${w.text}`, '  '))).join('\n'),
  ]
  return `${parts.filter(text => text !== '').join('\n\n')}\n`
}

function advicePart({ advice, correction }: Plan, columns: number): string {
  if (advice === null) return ''
  const lines = advice.map(a => {
    const p =
      a.p === null || a.limit === null ? '' : ` (${pText(a.p)}, counts as seen under ${threeDigits(a.limit)})`
    return wrapped(printable(`- ${a.text}${p}`, 500), columns, '  ')
  })
  return ['After the pulls so far:', ...lines, wrapped(correction ?? '', columns)].join('\n')
}

/** One line a block, each with a box to tick. */
function orderPart({ blocks, seed }: Plan): string {
  const rows = blocks
    .slice(0, MOST_BLOCKS)
    .map((block, i) => [`${i + 1}`, ...block.map(label => `[ ] ${printable(label, 30)}`)])
  const more =
    blocks.length > MOST_BLOCKS
      ? `\n… and ${blocks.length - MOST_BLOCKS} more blocks (--json has them all)`
      : ''
  return `Order of pulling, a block a line (seed ${seed} brings it back):\n${aligned(rows, 'left')}${more}`
}
