import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { settledBy } from '../options.ts'
import { roleOf } from '../words/roles.ts'

export interface Encoding {
  /** Label of the Encoding Standard (https://encoding.spec.whatwg.org/#names-and-labels). */
  readonly label: string
  readonly from: 'option' | 'mark' | 'content'
  /** Bytes of a byte-order mark to leave out. */
  readonly markBytes: number
}

const MAGIC: readonly (readonly [readonly number[], string])[] = [
  [[0x50, 0x4b, 0x03, 0x04], 'a ZIP archive or a spreadsheet workbook'],
  [[0xd0, 0xcf, 0x11, 0xe0], 'an old spreadsheet workbook'],
  [[0x25, 0x50, 0x44, 0x46], 'a PDF document'],
  [[0x89, 0x50, 0x4e, 0x47], 'a PNG picture'],
  [[0xff, 0xd8, 0xff], 'a JPEG picture'],
  [[0x1f, 0x8b], 'a gzip archive'],
  [[0x50, 0x41, 0x52, 0x31], 'a Parquet file'],
]

const startsWith = (bytes: Uint8Array, start: readonly number[]): boolean =>
  start.every((byte, i) => bytes[i] === byte)

/** Tells the encoding of a log from its first bytes, or that they are no text at all. */
export function detectEncoding(head: Uint8Array, name: string, given?: string): Outcome<Encoding> {
  if (given !== undefined) return givenEncoding(head, given)
  if (startsWith(head, [0xef, 0xbb, 0xbf])) return fine({ label: 'utf-8', from: 'mark', markBytes: 3 })
  if (startsWith(head, [0xff, 0xfe])) return fine({ label: 'utf-16le', from: 'mark', markBytes: 2 })
  if (startsWith(head, [0xfe, 0xff])) return fine({ label: 'utf-16be', from: 'mark', markBytes: 2 })
  const magic = MAGIC.find(([start]) => startsWith(head, start))
  if (magic) return wrong(notText(name, `is ${magic[1]}, not text.`))
  const wide = wideEncoding(head)
  if (wide) return fine({ label: wide, from: 'content', markBytes: 0 })
  if (looksBinary(head)) return wrong(notText(name, 'holds bytes that are not text.'))
  return fine({ label: narrowEncoding(head), from: 'content', markBytes: 0 })
}

const notText = (where: string, what: string) => ({
  where,
  what,
  cure: 'Export the log as text: CSV, tab-separated, or JSON Lines.',
})

function givenEncoding(head: Uint8Array, given: string): Outcome<Encoding> {
  try {
    const label = new TextDecoder(given).encoding
    const mark = { 'utf-8': [0xef, 0xbb, 0xbf], 'utf-16le': [0xff, 0xfe], 'utf-16be': [0xfe, 0xff] }[label]
    return fine({ label, from: 'option', markBytes: mark && startsWith(head, mark) ? mark.length : 0 })
  } catch {
    return wrong({
      where: '--encoding',
      what: `“${given.slice(0, 40)}” is no encoding known here.`,
      cure: 'Give one such as utf-8, utf-16le, windows-1252, shift_jis, gbk, big5 or euc-kr.',
      fields: settledBy('encoding'),
    })
  }
}

/**
 * UTF-16 without a mark shows by its zero bytes: digits and delimiters have one each, always on the same
 * side.
 */
function wideEncoding(head: Uint8Array): string | null {
  const pairs = Math.min(head.length, 8192) >> 1
  if (pairs < 4) return null
  let zerosFirst = 0
  let zerosSecond = 0
  for (let i = 0; i < pairs; i++) {
    if (head[2 * i] === 0) zerosFirst++
    if (head[2 * i + 1] === 0) zerosSecond++
  }
  if (zerosSecond > 0.4 * pairs && zerosFirst < 0.1 * pairs) return 'utf-16le'
  if (zerosFirst > 0.4 * pairs && zerosSecond < 0.1 * pairs) return 'utf-16be'
  return null
}

/**
 * Control characters that texts hold beside line feeds: tab, return, form feed, and the residue of editors
 * (Ctrl-Z, ESC).
 */
const TEXT_CONTROLS: readonly number[] = [9, 12, 13, 26, 27]

/** Whether the bytes hold too many other control characters, or NULs, for a text. */
function looksBinary(head: Uint8Array): boolean {
  let odd = 0
  let nulls = 0
  for (let i = 0; i < head.length; i++) {
    const byte = head[i]!
    if (byte >= 32 || byte === 10) continue
    if (byte === 0) nulls++
    else if (!TEXT_CONTROLS.includes(byte)) odd++
  }
  return odd > 0.02 * head.length + 1 || nulls > 0.3 * head.length
}

/** Legacy encodings tried where the text is not UTF-8, with what speaks for each in its decoded text. */
const LEGACY: readonly (readonly [string, RegExp])[] = [
  ['shift_jis', /[\u3040-\u30ff]|[時間荷重試験変位]/gu],
  ['gbk', /[时间力荷载拉数据试验单位秒度样]/gu],
  ['big5', /[時間力荷載拉數據試驗單位秒度樣]/gu],
  ['euc-kr', /[\uac00-\ud7a3]/gu],
  ['windows-1251', /[\u0430-\u044f]{3,}/gu],
]

function narrowEncoding(head: Uint8Array): string {
  // The last few bytes may be half a character.
  if (decodes('utf-8', head) || decodes('utf-8', head, 3)) return 'utf-8'
  const western = new TextDecoder('windows-1252').decode(head)
  let best = { label: 'windows-1252', score: scoreText(western, /[äöüÄÖÜßéèêàçñóíáúâôîëïåøæõãµ°±²³·]/gu) }
  for (const [label, signs] of LEGACY) {
    const text = decodes(label, head) ?? decodes(label, head, 1)
    if (text === null) continue
    const score = scoreText(text, signs)
    if (score > best.score) best = { label, score }
  }
  return best.label
}

function decodes(label: string, bytes: Uint8Array, without = 0): string | null {
  for (let less = 0; less <= without; less++) {
    try {
      return new TextDecoder(label, { fatal: true }).decode(bytes.subarray(0, bytes.length - less))
    } catch {
      // Not this one.
    }
  }
  return null
}

/**
 * Share of the characters beyond ASCII that the script of the encoding explains, and whole words of the trade
 * in it.
 */
function scoreText(text: string, signs: RegExp): number {
  const beyond = text.match(/[^\0-\x7f]/gu)?.length ?? 0
  if (beyond === 0) return 0
  const explained = (text.match(signs) ?? []).reduce((sum, found) => sum + found.length, 0)
  const words = text.match(/[\p{L}]*[^\0-\x7f\P{L}][\p{L}]*/gu) ?? []
  const known = words.slice(0, 200).filter(word => roleOf([word.toLowerCase()]) !== null).length
  return explained / beyond + 2 * (known / Math.max(1, Math.min(200, words.length)))
}
