/** Damage to a log, by a seeded generator, that leaves the words of its unit as they are. */

/** Mulberry32: small, seeded, good enough to pick places. */
export function randomOf(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
}

const ODD = [
  '',
  ' ',
  ',',
  ';',
  '\t',
  '\n',
  '\r',
  '"',
  '.',
  '-',
  '+',
  ':',
  '=',
  '0',
  '9',
  '{',
  '[',
  '}',
  '#',
  '\0',
  '\x1a',
  'e',
  '€',
  '٣',
  '->',
  '1e999',
  '\n\n',
  '""',
  ',,',
  '99999999999999999999',
  'NaN',
  '\ufeff',
  '[]',
  '//',
]

/** Places of `words` in the text, with the character on either side: what must stay. */
function kept(text: string, words: RegExp): (readonly [number, number])[] {
  return [...text.matchAll(words)].map(found => [found.index - 1, found.index + found[0].length + 1] as const)
}

/**
 * One to four changes: a character put in, taken out or changed, a line lost, doubled, moved or torn, the end
 * cut off.
 */
export function mutated(text: string, words: RegExp, random: () => number): string {
  let out = text
  const changes = 1 + Math.floor(random() * 4)
  for (let i = 0; i < changes; i++) out = changedOnce(out, words, random)
  return out
}

function changedOnce(text: string, words: RegExp, random: () => number): string {
  const spans = kept(text, words)
  const from = Math.floor(random() * (text.length + 1))
  const kind = Math.floor(random() * 8)
  const odd = ODD[Math.floor(random() * ODD.length)] ?? ''
  if (kind < 4) {
    const length = kind === 0 ? 0 : kind === 3 ? Math.floor(random() * 12) : 1
    const to = Math.min(text.length, from + length)
    if (spans.some(([a, b]) => from < b && to > a)) return text
    return text.slice(0, from) + (kind === 1 ? '' : odd) + text.slice(to)
  }
  const start = text.lastIndexOf('\n', from - 1) + 1
  const end = text.indexOf('\n', from) < 0 ? text.length : text.indexOf('\n', from) + 1
  if (spans.some(([a, b]) => start < b && end > a)) return text
  const line = text.slice(start, end)
  if (kind === 4) return text.slice(0, start) + text.slice(end)
  if (kind === 5) return text.slice(0, end) + line.repeat(1 + Math.floor(random() * 3)) + text.slice(end)
  if (kind === 6) return text.slice(0, start) + text.slice(end) + line
  return spans.some(([, b]) => b > from) ? text : text.slice(0, from)
}
