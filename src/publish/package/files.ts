import { type Outcome, type Problem, problemText } from '../../core/problem.ts'

/** One file of a package. */
export interface PackageFile {
  /** From the package's root, with `/` between folders: `raw/paste-1/paste-1.csv`. */
  readonly path: string
  readonly bytes: Uint8Array
}

/** A package as it was received, from a folder, a zip or the page's own storage. */
export interface PackageSource {
  /** For messages: the name of the folder or file. */
  readonly name: string
  readonly paths: readonly string[]
  /** Problem: there is no such file, or it cannot be read. */
  bytes(path: string): Promise<Outcome<Uint8Array>>
}

/**
 * SHA-256 of bytes as lower-case hex. Handed in, since a page opened from disk may have no `crypto.subtle`.
 */
export type Sha256 = (bytes: Uint8Array) => Promise<string>

/** All pieces as one. */
export function joinedBytes(pieces: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0))
  let at = 0
  for (const piece of pieces) {
    whole.set(piece, at)
    at += piece.length
  }
  return whole
}

/** A file that cannot be had or is not what it should be, in the midst of a stream of them. */
export class PackageFault extends Error {
  readonly problem: Problem

  constructor(problem: Problem) {
    super(problemText(problem))
    this.problem = problem
  }
}
