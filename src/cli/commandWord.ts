import { printable } from '../core/printable.ts'

/** A name as one word of a command that a person may copy: whatever it holds, a shell takes it as it stands. */
export function commandWord(name: string): string {
  const shown = printable(name, 200)
  if (/^[\w./:-]+$/.test(shown)) return shown
  // Double quotes are those of every shell; in them these mean something.
  return /["$`\\!%]/.test(shown) ? `'${shown.replaceAll("'", "'\\''")}'` : `"${shown}"`
}
