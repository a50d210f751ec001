import { seededRandom } from '../../../src/core/statistics/random.ts'

export interface WavShape {
  readonly rateHz: number
  readonly channels: number
  readonly bits: 8 | 16 | 24 | 32 | 64
  readonly float?: boolean
  readonly extensible?: boolean
  readonly form?: 'RIFF' | 'RF64'
  /** Written as the size of the samples; left out: the true one. */
  readonly toldBytes?: number
  /** A chunk that stands before the samples, of an odd length. */
  readonly extra?: boolean
}

/** A WAVE file of samples at full scale 1, channels interleaved. */
export function wavFile(samples: ArrayLike<number>, shape: WavShape): Uint8Array {
  const { rateHz, channels, bits, float = false, extensible = false, form = 'RIFF', extra = false } = shape
  const bytes = bits / 8
  const head: number[] = []
  const text = (word: string): void => void head.push(...[...word].map(c => c.charCodeAt(0)))
  const number = (value: number, size: number): void => {
    for (let k = 0; k < size; k++) head.push(Math.floor(value / 2 ** (8 * k)) % 256)
  }
  const dataBytes = samples.length * bytes
  const code = float ? 3 : 1
  text(form)
  number(0xffff_ffff, 4)
  text('WAVE')
  if (form === 'RF64') {
    text('ds64')
    number(28, 4)
    number(0, 8)
    number(dataBytes, 8)
    number(samples.length / channels, 8)
    number(0, 4)
  }
  if (extra) {
    text('LIST')
    number(5, 4)
    text('odd!!\0')
  }
  text('fmt ')
  number(extensible ? 40 : 16, 4)
  number(extensible ? 0xfffe : code, 2)
  number(channels, 2)
  number(rateHz, 4)
  number(rateHz * channels * bytes, 4)
  number(channels * bytes, 2)
  number(bits, 2)
  if (extensible) {
    number(22, 2)
    number(bits, 2)
    number(0, 4)
    number(code, 2)
    head.push(0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71)
  }
  text('data')
  number(shape.toldBytes ?? (form === 'RF64' ? 0xffff_ffff : dataBytes), 4)
  const out = new Uint8Array(head.length + dataBytes)
  out.set(head)
  const view = new DataView(out.buffer, head.length)
  for (let i = 0; i < samples.length; i++) writeSample(view, i * bytes, samples[i]!, bits, float)
  return out
}

function writeSample(
  view: DataView,
  at: number,
  value: number,
  bits: WavShape['bits'],
  float: boolean,
): void {
  if (float) {
    if (bits === 64) view.setFloat64(at, value, true)
    else view.setFloat32(at, value, true)
    return
  }
  const scale = 2 ** (bits - 1)
  const whole = Math.max(-scale, Math.min(scale - 1, Math.round(value * scale)))
  if (bits === 8) view.setUint8(at, whole + 128)
  else if (bits === 16) view.setInt16(at, whole, true)
  else if (bits === 32) view.setInt32(at, whole, true)
  else {
    view.setUint16(at, whole & 0xffff, true)
    view.setInt8(at + 2, whole >> 16)
  }
}

export interface SoundSpec {
  readonly seed: number
  readonly rateHz: number
  readonly lengthS: number
  readonly clicksS: readonly number[]
  /** Peak of a click, full scale 1. */
  readonly loudness?: number
  /** Standard deviation of the noise, full scale 1. */
  readonly noise?: number
}

/** One channel of noise, mains hum and a voice-like tone that comes and goes, with clicks that ring at 3 to 6 kHz. */
export function clickSound({
  seed,
  rateHz,
  lengthS,
  clicksS,
  loudness = 0.4,
  noise = 0.01,
}: SoundSpec): Float32Array {
  const random = seededRandom(seed)
  const out = new Float32Array(Math.round(rateHz * lengthS))
  for (let i = 0; i < out.length; i++) {
    const t = i / rateHz
    const voice = Math.max(0, Math.sin(2 * Math.PI * 0.31 * t)) * Math.sin(2 * Math.PI * 190 * t)
    out[i] = noise * random.normal() + 0.02 * Math.sin(2 * Math.PI * 50 * t) + 0.05 * voice
  }
  for (const clickS of clicksS) {
    const ringHz = 3_000 + 3_000 * random.uniform()
    const peak = loudness * (0.5 + random.uniform())
    const from = Math.ceil(clickS * rateHz)
    for (let i = from; i < Math.min(out.length, from + 0.03 * rateHz); i++) {
      const t = i / rateHz - clickS
      out[i]! += peak * Math.exp(-t / 0.004) * (Math.sin(2 * Math.PI * ringHz * t) + 0.5 * random.normal())
    }
  }
  return out.map(v => Math.max(-1, Math.min(1, v)))
}
