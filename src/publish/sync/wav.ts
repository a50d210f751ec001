import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'

/** How the samples of a sound are kept. */
export interface WavFormat {
  readonly rateHz: number
  readonly channels: number
  /** Bytes of one sample of one channel. */
  readonly bytes: number
  readonly float: boolean
}

export interface WavSummary extends WavFormat {
  /** Sample frames that were there. */
  readonly frames: number
  readonly lengthS: number
  /** The file ends before it should. */
  readonly cutShort: boolean
}

const PCM = 1
const FLOAT = 3
const EXTENSIBLE = 0xfffe
/** Tail of the sub-format GUIDs that stand for a plain format code (Microsoft, WAVEFORMATEXTENSIBLE). */
const GUID_TAIL = '000000001000800000aa00389b71'
/**
 * A size that is not known (a stream), or stands in the `ds64` chunk (RF64: EBU Tech 3306, ITU-R BS.2088).
 */
const UNKNOWN = 0xffff_ffff
const MOST_HEAD_BYTES = 65_536
/** A float beyond this, or none at all, is no sound. */
const MOST_SAMPLE = 1e6
/** No camera has more; a broken head may tell of thousands. */
const MOST_CHANNELS = 64
/** Frames that are converted at a time. */
const BLOCK_FRAMES = 16_384

/**
 * Reads a WAVE file that comes in pieces of any size, holding no more than a piece of it: RIFF, RF64 and
 * BW64; integers of 8, 16, 24 and 32 bits, floats of 32 and 64, also by WAVE_FORMAT_EXTENSIBLE; any number of
 * channels. `onSamples` gets the samples, channels interleaved, full scale 1; the array is used again after
 * it returns.
 */
export class WavReader {
  private state: 'file' | 'chunk' | 'head' | 'skip' | 'data' | 'end' = 'file'
  private held: Uint8Array = new Uint8Array(0)
  private chunk = ''
  private left = 0
  private format: WavFormat | null = null
  private longData: number | null = null
  private endless = false
  private frames = 0
  private problem: Problem | null = null
  private block = new Float32Array(0)

  constructor(
    private readonly where: string,
    private readonly onSamples: (interleaved: Float32Array, format: WavFormat) => void,
  ) {}

  /** Takes the next piece. After a problem, or at the end of the sound, pieces are passed over. */
  push(piece: Uint8Array): void {
    let bytes = piece
    if (this.held.length > 0) {
      bytes = new Uint8Array(this.held.length + piece.length)
      bytes.set(this.held)
      bytes.set(piece, this.held.length)
      this.held = new Uint8Array(0)
    }
    let at = 0
    while (at < bytes.length && this.problem === null && this.state !== 'end') {
      const taken = this.take(bytes.subarray(at))
      if (taken === 0) {
        this.held = bytes.slice(at)
        return
      }
      at += taken
    }
  }

  finish(): Outcome<WavSummary> {
    if (this.problem) return wrong(this.problem)
    if (this.format === null || (this.state !== 'data' && this.state !== 'end'))
      return wrong({
        where: this.where,
        what:
          this.state === 'file'
            ? 'the file ends before it begins to be a sound.'
            : 'there is no sound in the file.',
        cure: 'Export the sound anew as WAV.',
      })
    return fine({
      ...this.format,
      frames: this.frames,
      lengthS: this.frames / this.format.rateHz,
      cutShort: this.state === 'data' && !this.endless,
    })
  }

  /** Bytes that were used up; 0: more are needed. */
  private take(bytes: Uint8Array): number {
    switch (this.state) {
      case 'file':
        return bytes.length < 12 ? 0 : this.takeFileHead(bytes)
      case 'chunk':
        return bytes.length < 8 ? 0 : this.takeChunkHead(bytes)
      case 'head':
        return bytes.length < this.left ? 0 : this.takeHead(bytes.subarray(0, this.left))
      case 'skip': {
        const taken = Math.min(this.left, bytes.length)
        this.left -= taken
        if (this.left === 0) this.state = 'chunk'
        return taken
      }
      default:
        return this.takeData(bytes)
    }
  }

  private takeFileHead(bytes: Uint8Array): number {
    const form = letters(bytes, 0)
    if (!['RIFF', 'RF64', 'BW64'].includes(form) || letters(bytes, 8) !== 'WAVE')
      return this.stop(
        'this is no WAVE file.',
        'Give a WAV file, or another sound or clip where ffmpeg is installed.',
      )
    this.state = 'chunk'
    return 12
  }

  private takeChunkHead(bytes: Uint8Array): number {
    this.chunk = letters(bytes, 0)
    const size = viewOf(bytes).getUint32(4, true)
    if (this.chunk === 'data') return this.beginData(size)
    const isHead = this.chunk === 'fmt ' || this.chunk === 'ds64'
    if (isHead && size > MOST_HEAD_BYTES)
      return this.stop(
        `its “${this.chunk.trim()}” part is ${size} bytes long.`,
        'Export the sound anew as WAV.',
      )
    this.left = size + (size % 2)
    this.state = isHead ? 'head' : this.left > 0 ? 'skip' : 'chunk'
    return 8
  }

  private takeHead(bytes: Uint8Array): number {
    const view = viewOf(bytes)
    if (this.chunk === 'ds64' && bytes.length >= 16) {
      const size = view.getBigUint64(8, true)
      this.longData = size > BigInt(Number.MAX_SAFE_INTEGER) ? null : Number(size)
    } else if (this.chunk === 'fmt ') {
      const format = formatOf(view)
      if (typeof format === 'string')
        return this.stop(format, 'Export the sound as WAV with PCM samples (16 bits do well).')
      this.format = format
    }
    this.state = 'chunk'
    return bytes.length
  }

  private beginData(size: number): number {
    if (this.format === null)
      return this.stop('its samples come before their format is told.', 'Export the sound anew as WAV.')
    this.endless = (size === UNKNOWN && this.longData === null) || size === 0
    this.left = this.endless ? Number.POSITIVE_INFINITY : size === UNKNOWN ? (this.longData ?? 0) : size
    this.state = 'data'
    return 8
  }

  private takeData(bytes: Uint8Array): number {
    const format = this.format!
    const frameBytes = format.bytes * format.channels
    if (this.left < frameBytes) {
      this.state = 'end'
      return bytes.length
    }
    const frames = Math.floor(Math.min(bytes.length, this.left) / frameBytes)
    const most = BLOCK_FRAMES * format.channels
    if (this.block.length < most) this.block = new Float32Array(most)
    for (let from = 0; from < frames; from += BLOCK_FRAMES) {
      const count = Math.min(BLOCK_FRAMES, frames - from) * format.channels
      samplesInto(this.block, count, viewOf(bytes.subarray(from * frameBytes)), format)
      this.onSamples(this.block.subarray(0, count), format)
    }
    this.frames += frames
    this.left -= frames * frameBytes
    if (this.left < frameBytes) this.state = 'end'
    return frames * frameBytes
  }

  private stop(what: string, cure: string): number {
    this.problem = { where: this.where, what, cure }
    return 1
  }
}

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)

const letters = (bytes: Uint8Array, at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4))

/** The format of a `fmt ` chunk, or what is wrong with it. */
function formatOf(view: DataView): WavFormat | string {
  if (view.byteLength < 16) return `its “fmt” part is only ${view.byteLength} bytes long.`
  const told = view.getUint16(0, true)
  const channels = view.getUint16(2, true)
  const rateHz = view.getUint32(4, true)
  const bytes = view.getUint16(12, true) / channels
  let code = told
  if (told === EXTENSIBLE) {
    const guid = view.byteLength < 40 ? '' : hex(view, 26, 14)
    if (guid !== GUID_TAIL) return 'its samples are in an extended format that is not known.'
    code = view.getUint16(24, true)
  }
  if (code !== PCM && code !== FLOAT) return `its samples are compressed (format ${code}).`
  const fits = code === PCM ? [1, 2, 3, 4] : [4, 8]
  if (channels === 0 || channels > MOST_CHANNELS || rateHz === 0 || !fits.includes(bytes))
    return `its format cannot be (${channels} channels, ${rateHz} samples a second, ${bytes} bytes a sample).`
  return { rateHz, channels, bytes, float: code === FLOAT }
}

const hex = (view: DataView, at: number, count: number): string =>
  Array.from({ length: count }, (_, i) =>
    view
      .getUint8(at + i)
      .toString(16)
      .padStart(2, '0'),
  ).join('')

function samplesInto(out: Float32Array, count: number, view: DataView, { bytes, float }: WavFormat): void {
  if (float) {
    for (let i = 0; i < count; i++) {
      const value = bytes === 4 ? view.getFloat32(4 * i, true) : view.getFloat64(8 * i, true)
      out[i] = Math.abs(value) <= MOST_SAMPLE ? value : 0
    }
  } else if (bytes === 1) for (let i = 0; i < count; i++) out[i] = (view.getUint8(i) - 128) / 128
  else if (bytes === 2) for (let i = 0; i < count; i++) out[i] = view.getInt16(2 * i, true) / 2 ** 15
  else if (bytes === 4) for (let i = 0; i < count; i++) out[i] = view.getInt32(4 * i, true) / 2 ** 31
  else
    for (let i = 0; i < count; i++)
      out[i] = ((view.getInt8(3 * i + 2) << 16) | view.getUint16(3 * i, true)) / 2 ** 23
}
