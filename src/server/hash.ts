import { createHash } from 'node:crypto'
import type { Sha256 } from '../publish/package/files.ts'

/** SHA-256 by Node, in lower-case hex. */
export const sha256: Sha256 = async bytes => createHash('sha256').update(bytes).digest('hex')
