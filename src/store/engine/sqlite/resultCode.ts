/** Result codes of SQLite that mean something to us (SQLite documentation, “Result and Error Codes”). */
export const RESULT = {
  busy: 5,
  locked: 6,
  readOnly: 8,
  ioError: 10,
  corrupt: 11,
  full: 13,
  cannotOpen: 14,
  constraint: 19,
  notADatabase: 26,
} as const

/** The code of a trigger's `raise(abort, …)`. */
export const CONSTRAINT_TRIGGER = RESULT.constraint | (7 << 8)

/** What SQLite said, in full; `null` where an error is not the database's. */
export function extendedCode(error: unknown): number | null {
  const { code, errcode } = (error ?? {}) as { code?: unknown; errcode?: unknown }
  return code === 'ERR_SQLITE_ERROR' && typeof errcode === 'number' ? errcode : null
}

/** The kind of what SQLite said: the low byte of the full code. */
export function resultCode(error: unknown): number | null {
  const code = extendedCode(error)
  return code === null ? null : code & 0xff
}
