/** A name that no one else has: 16 hexadecimal digits. Also where the page is not served securely, unlike `randomUUID`. */
export const randomName = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(8)), byte => byte.toString(16).padStart(2, '0')).join('')
