import { findScale, onScale, type Scale, wholeNumber } from './scale.ts'
import { VarintReader, VarintWriter } from './varint.ts'

/**
 * A run of doubles as few bytes, before general compression, and back bit for bit.
 *
 * First byte 1: whole numbers on a scale. Then the order of differences (0, 1 or 2; time, evenly stepped, is
 * short as differences of differences), divisor, factor and offset as doubles, how many values fit no whole
 * number and for each of those the distance from the last such one and its 8 bytes, then the differences.
 * First byte 2: the doubles' own bits, each XORed with the one before, all first bytes first, then all second
 * ones …
 */
const ON_SCALE = 1
const OWN_BITS = 2

export function packSeries(values: Float64Array, factors: readonly number[] = [1]): Uint8Array {
  const scale = findScale(values, factors)
  return (scale && packOnScale(values, scale)) ?? packOwnBits(values)
}

/** @throws RangeError where the bytes are not what `packSeries` made for this many values */
export function unpackSeries(packed: Uint8Array, samples: number): Float64Array {
  if (packed[0] === ON_SCALE) return unpackOnScale(packed, samples)
  if (packed[0] === OWN_BITS) return unpackOwnBits(packed, samples)
  throw new RangeError(`samples are packed in an unknown way (${packed[0]})`)
}

function packOnScale(values: Float64Array, scale: Scale): Uint8Array | null {
  const whole = new Float64Array(values.length)
  const misfits: number[] = []
  let last = 0
  for (let i = 0; i < values.length; i++) {
    const n = wholeNumber(values[i]!, scale)
    if (n === null) misfits.push(i)
    else last = n
    whole[i] = last
  }
  // Nine bytes a misfit: past one in eight the doubles' own bits are shorter.
  if (misfits.length * 8 > values.length) return null
  const order = shortestOrder(whole)
  const out = new VarintWriter(values.length * 3 + 64)
  out.raw(Uint8Array.of(ON_SCALE, order))
  out.raw(bytesOf(Float64Array.of(scale.divisor, scale.factor, scale.offset)))
  out.unsigned(misfits.length)
  let before = 0
  for (const at of misfits) {
    out.unsigned(at - before)
    out.raw(bytesOf(values.subarray(at, at + 1)))
    before = at
  }
  for (let i = 0; i < whole.length; i++) out.signed(difference(whole, i, order))
  return out.done()
}

function unpackOnScale(packed: Uint8Array, samples: number): Float64Array {
  const order = packed[1]
  const reader = new VarintReader(packed, 2)
  const [divisor = 1, factor = 1, offset = 0] = doublesOf(reader.raw(24))
  const scale = { divisor, factor, offset }
  const misfits: { at: number; value: number }[] = []
  const count = reader.unsigned()
  if (count > samples) throw new RangeError('more misfits than samples')
  let at = 0
  for (let k = 0; k < count; k++) {
    at += reader.unsigned()
    misfits.push({ at, value: doublesOf(reader.raw(8))[0]! })
  }
  const values = new Float64Array(samples)
  let n = 0
  let step = 0
  for (let i = 0; i < samples; i++) {
    const read = reader.signed()
    if (order === 0) n = read
    else if (order === 1) n += read
    else {
      step += read
      n += step
    }
    values[i] = onScale(n, scale)
  }
  for (const { at, value } of misfits) values[at] = value
  if (reader.at !== packed.length || at >= Math.max(samples, 1))
    throw new RangeError('packed samples do not add up')
  return values
}

/**
 * The value itself, its difference from the one before, or that difference's own; before the first all are 0.
 */
function difference(whole: Float64Array, i: number, order: number): number {
  const a = whole[i]!
  if (order === 0) return a
  const b = i > 0 ? whole[i - 1]! : 0
  if (order === 1) return a - b
  const c = i > 1 ? whole[i - 2]! : 0
  return i === 0 ? a : a - 2 * b + c
}

function shortestOrder(whole: Float64Array): 0 | 1 | 2 {
  const bits = [0, 0, 0]
  for (let i = 0; i < whole.length; i++)
    for (let order = 0; order < 3; order++)
      bits[order]! += Math.log2(1 + Math.abs(difference(whole, i, order)))
  const [none, once, twice] = bits as [number, number, number]
  if (twice < once && twice < none) return 2
  return once < none ? 1 : 0
}

function packOwnBits(values: Float64Array): Uint8Array {
  const count = values.length
  const own = bytesOf(values)
  const packed = new Uint8Array(1 + own.length)
  packed[0] = OWN_BITS
  for (let i = 0; i < count; i++)
    for (let byte = 0; byte < 8; byte++) {
      const before = i > 0 ? own[8 * (i - 1) + byte]! : 0
      packed[1 + byte * count + i] = own[8 * i + byte]! ^ before
    }
  return packed
}

function unpackOwnBits(packed: Uint8Array, samples: number): Float64Array {
  if (packed.length !== 1 + 8 * samples) throw new RangeError('packed samples do not add up')
  const values = new Float64Array(samples)
  const own = bytesOf(values)
  for (let i = 0; i < samples; i++)
    for (let byte = 0; byte < 8; byte++) {
      const before = i > 0 ? own[8 * (i - 1) + byte]! : 0
      own[8 * i + byte] = packed[1 + byte * samples + i]! ^ before
    }
  return values
}

const bytesOf = (values: Float64Array): Uint8Array =>
  new Uint8Array(values.buffer, values.byteOffset, values.byteLength)

const doublesOf = (bytes: Uint8Array): Float64Array => new Float64Array(new Uint8Array(bytes).buffer)
