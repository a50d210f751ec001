/** Names that Windows keeps for devices, whatever their ending. */
const DEVICES = /^(?:con|prn|aux|nul|com\d|lpt\d)(?:$|\.)/

const MOST_LETTERS = 60

/**
 * A name as a file or folder may bear it on every system and in every zip: lower-case ASCII letters, digits,
 * `-`, `_` and single dots within; `fallback` where nothing is left. `Größe 3/b.CSV` → `grosse-3-b.csv`.
 */
export function slug(name: string, fallback: string): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .replaceAll('ø', 'o')
    .replaceAll('ł', 'l')
    .replaceAll('æ', 'ae')
    .replaceAll('œ', 'oe')
    .replace(/\p{M}+/gu, '')
    .replace(/[^a-z0-9._-]+/g, '-')
    .replace(/[.-]*\.[.-]*/g, '.')
    .replace(/-{2,}/g, '-')
  const cut = plain.length <= MOST_LETTERS ? plain : shortened(plain)
  const trimmed = cut.replace(/^[._-]+|[._-]+$/g, '')
  if (trimmed === '') return fallback
  return DEVICES.test(trimmed) ? `${fallback}-${trimmed}` : trimmed
}

/** Cut in the middle of the name, so that its ending stays. */
function shortened(plain: string): string {
  const ending = /\.[a-z0-9]{1,8}$/.exec(plain)?.[0] ?? ''
  return plain.slice(0, MOST_LETTERS - ending.length).replace(/[._-]+$/, '') + ending
}

/** Gives each name a slug of its own: the second of the same gets `-2` before its ending. */
export function slugMaker(): (name: string, fallback: string) => string {
  const taken = new Set<string>()
  return (name, fallback) => {
    const wanted = slug(name, fallback)
    const [, stem = wanted, ending = ''] = /^(.+?)(\.[a-z0-9]{1,8})?$/.exec(wanted) ?? []
    let given = wanted
    for (let n = 2; taken.has(given); n++) given = `${stem}-${n}${ending}`
    taken.add(given)
    return given
  }
}
