import { quantityWords } from './quantity.ts'
import { between, couldHaveSeen, isSeen, type Judged, type JudgedPair, verdictOfPair } from './verdict.ts'
import { amount, type Scale } from './words.ts'

/** What the figures do not show, in one sentence; `null` where there is nothing to compare. */
export function notShown(judged: Judged): string | null {
  if (judged.pairs.length === 0 || judged.untied !== null) return null
  const words = quantityWords(judged.quantity)
  const seen = judged.pairs.filter(p => isSeen(p) && p.ci95 !== null && p.tests.decision?.by !== 'ranks')
  const open = judged.pairs.filter(p => verdictOfPair(p) === 'undecided' && p.tests.decision !== null)
  const parts = [
    ...(open.length > 0 ? [openText(open, judged)] : []),
    ...(seen.length > 3 ? [] : seen.map(p => atLeastText(p, judged.scale, words.more))),
  ]
  return parts.length === 0 ? null : `Not shown: ${parts.join('; ')}.`
}

const openText = (open: readonly JudgedPair[], judged: Judged): string =>
  `that there is no difference ${between(open, judged)} (${couldHaveSeen(open, judged)})`

/** The near end of the interval is what was shown, the mean itself is not. */
function atLeastText({ a, b, ci95, difference }: JudgedPair, scale: Scale, more: string): string {
  const [winner, loser] = difference! > 0 ? [a, b] : [b, a]
  const near = difference! > 0 ? ci95![0] : -ci95![1]
  const half = (ci95![1] - ci95![0]) / 2
  return near > 0
    ? `that ${winner.name} ${more} than ${loser.name} by the full ${amount(Math.abs(difference!), scale, half)}, only by ${amount(near, scale, half)} or more`
    : `by how much ${winner.name} ${more} than ${loser.name}`
}
