import { readFile, type Stats } from 'node:fs'

/** What the process tells that started this one: a file as it stood, and the SHA-256 of its bytes. */
type Told = Pick<Stats, 'dev' | 'ino' | 'size' | 'mtimeMs'> & { readonly sha256: string }

/** Set by bin/largePages.js: the number of the pipe on which it tells. */
const PIPE = 'TENTERHOOK_HASH_PIPE'

/**
 * The hash of a file that bin/largePages.js makes while this process starts: `null` where it makes none. Resolves to
 * `null` where it is of another file, or of this one as it stood at another time.
 */
export function toldHash(file: Omit<Told, 'sha256'>): Promise<string | null> | null {
  const pipe = process.env[PIPE]
  // Told once, and nothing that this process starts is told anything.
  delete process.env[PIPE]
  if (pipe === undefined || !/^\d+$/.test(pipe)) return null
  return new Promise(resolve =>
    readFile(Number(pipe), 'utf8', (error, text) => resolve(error ? null : hashIn(text, file))),
  )
}

function hashIn(text: string, { dev, ino, size, mtimeMs }: Omit<Told, 'sha256'>): string | null {
  try {
    const told: Told = JSON.parse(text)
    const same = told.dev === dev && told.ino === ino && told.size === size && told.mtimeMs === mtimeMs
    return same && /^[0-9a-f]{64}$/.test(told.sha256) ? told.sha256 : null
  } catch {
    return null
  }
}
