import { open } from 'node:fs/promises'

/**
 * Makes a file that only its owner may read, or takes the others' rights away from one that is there: a
 * database makes its files readable by all, and its helpers beside it with the rights that it has itself.
 * Where that is not possible, whoever opens the file next tells why.
 */
export async function ownerOnly(path: string): Promise<void> {
  try {
    const file = await open(path, 'a', 0o600)
    try {
      const { mode } = await file.stat()
      if (mode & 0o077) await file.chmod(mode & 0o700)
    } finally {
      await file.close()
    }
  } catch {
    // A folder that may not be written to, a file of somebody else.
  }
}
