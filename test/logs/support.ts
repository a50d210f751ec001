import type { Recording } from '../../src/core/recording.ts'
import { type LogOptions, readLog } from '../../src/logs/index.ts'

const encoder = new TextEncoder()

export const utf8 = (text: string): Uint8Array => encoder.encode(text)

/** Text in an encoding of one byte a character, by its table of characters above 127. */
export const latin1 = (text: string): Uint8Array =>
  Uint8Array.from(text, character => character.charCodeAt(0) & 0xff)

export const utf16 = (text: string, big = false, mark = true): Uint8Array => {
  const full = mark ? `\ufeff${text}` : text
  const bytes = new Uint8Array(2 * full.length)
  for (let i = 0; i < full.length; i++) {
    const code = full.charCodeAt(i)
    bytes[2 * i] = big ? code >> 8 : code & 0xff
    bytes[2 * i + 1] = big ? code & 0xff : code >> 8
  }
  return bytes
}

/** Text in an encoding that only the decoder knows: found character by character among all pairs of bytes. */
export function legacy(text: string, label: string): Uint8Array {
  const decoder = new TextDecoder(label)
  const found = new Map<string, number[]>()
  const wanted = new Set([...text].filter(character => character.charCodeAt(0) > 127))
  for (let high = 0x80; high < 0x100 && found.size < wanted.size; high++) {
    const single = decoder.decode(Uint8Array.of(high))
    if (wanted.has(single)) found.set(single, [high])
    for (let low = 0x30; low < 0x100; low++) {
      const pair = decoder.decode(Uint8Array.of(high, low))
      if (wanted.has(pair) && !found.has(pair)) found.set(pair, [high, low])
    }
  }
  return Uint8Array.from([...text].flatMap(character => found.get(character) ?? [character.charCodeAt(0)]))
}

export function recordingOf(log: string | Uint8Array, options: LogOptions = {}, name = 'log.csv'): Recording {
  const read = readLog(typeof log === 'string' ? utf8(log) : log, name, options)
  if (!read.ok) throw new Error(read.problems.map(p => `${p.where}: ${p.what} ${p.cure}`).join('\n'))
  return read.value
}

/** The problems of a log that must not open, one line each. */
export function problemsOf(log: string | Uint8Array, options: LogOptions = {}): string[] {
  const read = readLog(typeof log === 'string' ? utf8(log) : log, 'log.csv', options)
  return read.ok ? [] : read.problems.map(({ where, what, cure }) => `${where}: ${what} ${cure}`)
}

/** Lines made from a count, joined. */
export const lines = (count: number, line: (i: number) => string, end = '\n'): string =>
  Array.from({ length: count }, (_, i) => line(i) + end).join('')
