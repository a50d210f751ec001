import { randomBytes } from 'node:crypto'

/**
 * Digits and letters that are not mistaken for one another when read aloud or copied by hand: no i, l, o, u.
 */
const ALPHABET = '0123456789abcdefghjkmnpqrstvwxyz'
const LENGTH = 10

/** A new random id of ten characters: 50 bits, so that stores made apart can be joined. */
export function newId(): string {
  let id = ''
  for (const byte of randomBytes(LENGTH)) id += ALPHABET[byte & 31]
  return id
}

/** What an id may look like: ours, or a longer one that a journal gave. */
export const ID_PATTERN = /^[0-9a-z][0-9a-z-]{3,63}$/
