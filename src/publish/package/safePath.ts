const MOST_LETTERS = 400

/**
 * What is wrong with a path inside a package, in words that follow “the path”; `null` where it is safe. It
 * must stay under the package's root on every system: no absolute path, no drive, no backslash, no step up,
 * no control character.
 */
export function unsafePath(path: string): string | null {
  if (path === '') return 'is empty'
  if (path.length > MOST_LETTERS) return `is longer than ${MOST_LETTERS} letters`
  if (/\p{Cc}/u.test(path)) return 'holds a control character'
  if (path.includes('\\')) return 'holds a backslash'
  if (path.startsWith('/')) return 'begins at the root of the disk'
  if (/^[A-Za-z]:/.test(path)) return 'begins with a drive'
  if (path.split('/').some(part => part === '..' || part === '.')) return 'leaves its folder'
  if (path.split('/').some(part => part === '')) return 'has an empty part'
  return null
}

/** The same for paths that some system takes for one: letters of either case, accents joined or apart. */
export const sameOnAnySystem = (path: string): string => path.normalize('NFC').toLowerCase()
