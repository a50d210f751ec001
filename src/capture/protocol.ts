/**
 * Tenterhook's line protocol, version 1 (docs/line-protocol.md): lines of printable ASCII for devices that can do more
 * than print a number. The device greets, then sends one line a sample; the computer may ask for a rate and for sending
 * to start or stop. Nothing in it moves a rig.
 *
 *     tenterhook 1 unit=counts tick=1e-6 rate=80 name=bench*4F1C
 *     s 17 1843250 -83211 0*9A02
 */
export interface Greeting {
  readonly kind: 'greeting'
  readonly version: number
  readonly unit: string
  /** Seconds in one step of the device's time; `null`: it sends none. */
  readonly tickS: number | null
  readonly rateHz: number | null
  readonly name: string
}

interface DeviceSample {
  readonly kind: 'sample'
  readonly sequence: number
  /** Steps of the device's clock, 0 to 2^32 − 1. */
  readonly ticks: number
  readonly value: number
  readonly status: number
}

interface DeviceAnswer {
  readonly kind: 'answer'
  readonly ok: boolean
  readonly text: string
}

export type DeviceLine =
  | Greeting
  | DeviceSample
  | DeviceAnswer
  /** It has the shape of a line of the protocol, but its checksum or a field is wrong. */
  | { readonly kind: 'broken' }

/** Bits of a sample's status. */
export const STATUS = {
  /** The converter is at the end of its range. */
  overRange: 1,
  /** The cell does not answer, or a lead is off: the value means nothing. */
  noCell: 2,
  /** The device's zero was set since the sample before. */
  zeroSet: 4,
  /** The device's own buffer ran over: samples before this one are lost. */
  overrun: 8,
  /** The bits of the reading slipped on their way from the converter: the value means nothing. */
  bitsSlipped: 16,
} as const

/**
 * CRC-16 with polynomial 0x1021, start 0xFFFF, no reflection (CRC-16/IBM-3740, also called CCITT-FALSE).
 * Check value: "123456789" → 0x29B1.
 */
export function crc16(text: string): number {
  let crc = 0xffff
  for (let i = 0; i < text.length; i++) {
    crc ^= (text.charCodeAt(i) & 0xff) << 8
    for (let bit = 0; bit < 8; bit++)
      crc = crc & 0x8000 ? ((crc << 1) ^ 0x1021) & 0xffff : (crc << 1) & 0xffff
  }
  return crc
}

/** A line as it goes over the wire, without its end. */
export const withChecksum = (text: string): string =>
  `${text}*${crc16(text).toString(16).toUpperCase().padStart(4, '0')}`

const CHECKED = /^(.*)\*([0-9A-Fa-f]{4})$/
const SHAPED = /^(?:s \d|tenterhook \d|ok |no )/
const SAMPLE = /^s (\d{1,5}) (\d{1,10}) ([+-]?\d+(?:\.\d+)?) (\d{1,3})$/
const GREETING = /^tenterhook (\d{1,4})((?: [a-z]+=[^ *]*)*)$/
const ANSWER = /^(ok|no) (.*)$/

/** What a line says in the protocol; `null`: it is no line of the protocol. */
export function parseDeviceLine(line: string): DeviceLine | null {
  if (!SHAPED.test(line)) return null
  const checked = CHECKED.exec(line)
  if (!checked) return null
  const text = checked[1] ?? ''
  if (crc16(text) !== Number.parseInt(checked[2] ?? '', 16)) return { kind: 'broken' }
  return sampleLine(text) ?? greetingLine(text) ?? answerLine(text) ?? { kind: 'broken' }
}

function sampleLine(text: string): DeviceSample | null {
  const found = SAMPLE.exec(text)
  if (!found) return null
  const [sequence = 0, ticks = 0, value = 0, status = 0] = found.slice(1).map(Number)
  if (sequence > 65_535 || ticks > 4_294_967_295 || status > 255) return null
  return { kind: 'sample', sequence, ticks, value, status }
}

function greetingLine(text: string): Greeting | null {
  const found = GREETING.exec(text)
  if (!found) return null
  const fields = new Map(
    (found[2] ?? '')
      .trim()
      .split(' ')
      .map(pair => {
        const at = pair.indexOf('=')
        return [pair.slice(0, at), pair.slice(at + 1)] as const
      }),
  )
  const positive = (key: string): number | null => {
    const value = Number(fields.get(key))
    return value > 0 && Number.isFinite(value) ? value : null
  }
  return {
    kind: 'greeting',
    version: Number(found[1]),
    unit: fields.get('unit') ?? 'counts',
    tickS: positive('tick'),
    rateHz: positive('rate'),
    name: fields.get('name') ?? '',
  }
}

function answerLine(text: string): DeviceAnswer | null {
  const found = ANSWER.exec(text)
  return found ? { kind: 'answer', ok: found[1] === 'ok', text: found[2] ?? '' } : null
}

/** The only things that the computer ever says: all about logging. Each line ends with a line feed. */
export const COMMANDS = {
  hello: 'hello',
  start: 'send',
  stop: 'hush',
  rate: (rateHz: number): string => `rate ${rateHz}`,
} as const
