/** A file that only grows. */
export interface GrowingFile {
  /**
   * Hands bytes to the system and tells how many it took, at least one, perhaps not all: the caller goes on
   * with the rest. Rejects with the system's error when it takes none, so that the file never holds a torn
   * frame with more after it.
   */
  append(bytes: Uint8Array): Promise<number>
  /** Resolves when everything appended before the call is on the disk itself. */
  sync(): Promise<void>
  /** Says that it is still written, though nothing comes. */
  touch(): Promise<void>
  close(): Promise<void>
}

/**
 * How a disk is spoken of, and what can be done about it, where it is none of a computer that one may choose.
 */
export interface DiskWords {
  readonly name: string
  /** Where it has too little room for a recording. */
  readonly roomCure: string
  /** Of the words of the system, by their code. */
  readonly meanings: Readonly<Record<string, readonly [what: string, cure: string]>>
}

/**
 * The few things that the journal asks of a disk, so that a test can stand in for one that loses what was not
 * synced. Errors are the system's own, with its `code`.
 */
export interface FileLayer {
  /** Left out for a disk of a computer. */
  readonly words?: DiskWords
  /**
   * Makes the folder, with those above it, for their owner alone, and rejects where it cannot be written to.
   */
  makeFolder(folder: string): Promise<void>
  /** Bytes that may still be written there; `null` where the system does not tell. */
  freeBytes(folder: string): Promise<number | null>
  /**
   * Makes a file for its owner alone, or opens it again and cuts it back to `keepBytes`; rejects with
   * `ESHRUNK` where it no longer has so many. Its first sync sees to it that its name is on the disk too.
   */
  create(path: string, keepBytes: number): Promise<GrowingFile>
  /** All of a file, or its first `most` bytes. */
  read(path: string, most?: number): Promise<Uint8Array>
  /** All of a file in pieces; where this is left out it is read whole. */
  pieces?(path: string): AsyncIterable<Uint8Array>
  /** Names in the folder; none where there is no such folder. */
  list(folder: string): Promise<readonly string[]>
  /** Milliseconds since it was last written to. */
  ageMs(path: string): Promise<number>
  rename(from: string, to: string): Promise<void>
  remove(path: string): Promise<void>
}

/** A name in a folder, with the separator that the folder is written with. */
export const inFolder = (folder: string, name: string): string =>
  `${folder}${folder.includes('\\') && !folder.includes('/') ? '\\' : '/'}${name}`

export const journalPath = (folder: string, id: string): string => inFolder(folder, `${id}.journal`)

/** A file in pieces, whatever the layer offers. */
export async function* piecesOf(files: FileLayer, path: string): AsyncGenerator<Uint8Array> {
  if (files.pieces) yield* files.pieces(path)
  else yield await files.read(path)
}
