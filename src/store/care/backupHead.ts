/**
 * The head of a backup file: one line of JSON, filled with spaces, so that the database begins at byte 512.
 */
export const BACKUP_HEAD_BYTES = 512

export interface BackupHead {
  /** Schema version of the database in it. */
  readonly schema: number
  /** Of the database that follows. */
  readonly bytes: number
  readonly sha256: string
  readonly madeAt: string
}

export const backupHead = (head: BackupHead): Uint8Array =>
  new TextEncoder().encode(
    `${JSON.stringify({ document: 'tenterhook.backup', version: 1, ...head }).padEnd(BACKUP_HEAD_BYTES - 1)}\n`,
  )

/** The head of a file, or `null` where it is no backup of ours. */
export function readBackupHead(bytes: Uint8Array): BackupHead | null {
  if (bytes.length !== BACKUP_HEAD_BYTES) return null
  try {
    const head = JSON.parse(new TextDecoder().decode(bytes)) as Record<string, unknown>
    const { document, version, schema, bytes: length, sha256, madeAt } = head
    if (document !== 'tenterhook.backup' || version !== 1) return null
    if (typeof schema !== 'number' || typeof length !== 'number') return null
    if (typeof sha256 !== 'string' || typeof madeAt !== 'string') return null
    return { schema, bytes: length, sha256, madeAt }
  } catch {
    return null
  }
}
