import { open } from 'node:fs/promises'
import { fileProblem } from '../../core/fileProblem.ts'
import { type Outcome, wrong } from '../../core/problem.ts'
import { type SoundEnvelope, SoundMeter } from '../sync/soundEnvelope.ts'
import { WavReader } from '../sync/wav.ts'
import { decodeSound } from './ffmpegSound.ts'

export interface SoundFileOptions {
  /** Told after each piece of a WAV file, in bytes; of other files `all` is not known and 0. */
  readonly onProgress?: (done: number, all: number) => void
  readonly signal?: AbortSignal
}

const PIECE_BYTES = 1024 * 1024
const WAV_FORMS = ['RIFF', 'RF64', 'BW64']

/**
 * The sound of a file, as loud as it is from millisecond to millisecond: WAV is read here, all else by
 * ffmpeg.
 */
export async function readSoundFile(
  path: string,
  { onProgress, signal }: SoundFileOptions = {},
): Promise<Outcome<SoundEnvelope>> {
  let meter: SoundMeter | null = null
  const reader = new WavReader(path, (samples, { rateHz, channels }) => {
    meter ??= new SoundMeter(rateHz, channels)
    meter.push(samples)
  })
  const taken = await isWav(path)
  if (!taken.ok) return taken
  const read = taken.value
    ? await pushFile(path, reader, { ...(onProgress ? { onProgress } : {}), ...(signal ? { signal } : {}) })
    : await decodeSound(path, {
        onBytes: countedBy(reader, onProgress),
        ...(signal ? { signal } : {}),
      })
  if (!read.ok) return read
  const summary = reader.finish()
  if (!summary.ok) return summary
  const { rateHz, channels } = summary.value
  return { ok: true, value: (meter ?? new SoundMeter(rateHz, channels)).finish() }
}

function countedBy(
  reader: WavReader,
  onProgress: SoundFileOptions['onProgress'],
): (piece: Uint8Array) => void {
  let bytes = 0
  return piece => {
    reader.push(piece)
    bytes += piece.length
    onProgress?.(bytes, 0)
  }
}

async function isWav(path: string): Promise<Outcome<boolean>> {
  try {
    const file = await open(path, 'r')
    try {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(12), 0, 12, 0)
      const text = buffer.subarray(0, bytesRead).toString('latin1')
      return { ok: true, value: WAV_FORMS.includes(text.slice(0, 4)) && text.slice(8) === 'WAVE' }
    } finally {
      await file.close()
    }
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

async function pushFile(
  path: string,
  reader: WavReader,
  { onProgress, signal }: SoundFileOptions,
): Promise<Outcome<null>> {
  try {
    const file = await open(path, 'r')
    try {
      const { size } = await file.stat()
      const piece = Buffer.alloc(PIECE_BYTES)
      let done = 0
      for (;;) {
        if (signal?.aborted)
          return wrong({ where: path, what: 'reading it was stopped.', cure: 'Start again when you like.' })
        const { bytesRead } = await file.read(piece, 0, PIECE_BYTES, null)
        if (bytesRead === 0) break
        // The reader keeps nothing of a piece but copies.
        reader.push(piece.subarray(0, bytesRead))
        done += bytesRead
        onProgress?.(done, size)
      }
      return { ok: true, value: null }
    } finally {
      await file.close()
    }
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}
