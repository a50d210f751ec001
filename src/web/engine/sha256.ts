import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'

/** SHA-256 as lower-case hex. Not the browser's own: that is missing on pages opened from disk in some browsers. */
export const sha256Hex = (bytes: Uint8Array): string => bytesToHex(sha256(bytes))
