/**
 * Integers of up to 53 bits as seven bits a byte, the lowest first, the top bit set while more follow; signed
 * ones folded so that small ones of either sign stay short (0, −1, 1, −2 … → 0, 1, 2, 3 …). Plain arithmetic
 * where 32 bits do not do.
 */
export class VarintWriter {
  #bytes: Uint8Array
  #length = 0

  constructor(roomBytes: number) {
    this.#bytes = new Uint8Array(Math.max(16, roomBytes))
  }

  /** Whole number from 0 to 2^53 − 1. */
  unsigned(value: number): void {
    if (this.#length + 8 > this.#bytes.length) this.#grow(8)
    const bytes = this.#bytes
    let at = this.#length
    let rest = value
    while (rest >= 0x80000000) {
      bytes[at++] = (rest % 128) | 0x80
      rest = Math.floor(rest / 128)
    }
    while (rest >= 0x80) {
      bytes[at++] = (rest & 0x7f) | 0x80
      rest >>>= 7
    }
    bytes[at++] = rest
    this.#length = at
  }

  /** Whole number whose double fits 53 bits. */
  signed(value: number): void {
    this.unsigned(value < 0 ? -2 * value - 1 : 2 * value)
  }

  raw(more: Uint8Array): void {
    if (this.#length + more.length > this.#bytes.length) this.#grow(more.length)
    this.#bytes.set(more, this.#length)
    this.#length += more.length
  }

  done(): Uint8Array {
    return this.#bytes.subarray(0, this.#length)
  }

  #grow(needBytes: number): void {
    const grown = new Uint8Array(Math.max(2 * this.#bytes.length, this.#length + needBytes))
    grown.set(this.#bytes.subarray(0, this.#length))
    this.#bytes = grown
  }
}

/** @throws RangeError when the bytes end too soon or a number is longer than any that was written */
export class VarintReader {
  readonly #bytes: Uint8Array
  #at: number

  constructor(bytes: Uint8Array, at = 0) {
    this.#bytes = bytes
    this.#at = at
  }

  get at(): number {
    return this.#at
  }

  unsigned(): number {
    const bytes = this.#bytes
    let at = this.#at
    let value = 0
    let scale = 1
    for (let i = 0; i < 8; i++) {
      const byte = bytes[at++]
      if (byte === undefined) throw new RangeError('packed numbers end too soon')
      value += (byte & 0x7f) * scale
      if (byte < 0x80) {
        this.#at = at
        return value
      }
      scale *= 128
    }
    throw new RangeError('a packed number is too long')
  }

  signed(): number {
    const folded = this.unsigned()
    return folded % 2 === 0 ? folded / 2 : -(folded + 1) / 2
  }

  raw(length: number): Uint8Array {
    const end = this.#at + length
    if (end > this.#bytes.length) throw new RangeError('packed numbers end too soon')
    const part = this.#bytes.subarray(this.#at, end)
    this.#at = end
    return part
  }
}
