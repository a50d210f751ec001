import { faultText } from '../../core/problem.ts'
import { Trouble } from '../data/trouble.ts'
import { texts } from '../texts/index.ts'
import type { Sound } from './worker/types.ts'

/** A browser decodes a file whole; what is larger asks for more memory than it has. */
const MOST_BYTES = 1e9
/** Most sounds of films; others are resampled to it, which keeps their length. */
const RATE_HZ = 48_000

/** The sound of a film: a WAV is read as it is, in pieces; anything else goes through the browser's decoder. */
export async function decodedSound(file: File): Promise<Sound> {
  if (await isWav(file)) return { kind: 'wav', file }
  if (file.size > MOST_BYTES) throw new Trouble([texts.tell.tooLong(file.name)])
  const context = new OfflineAudioContext(1, 1, RATE_HZ)
  try {
    const sound = await context.decodeAudioData(await file.arrayBuffer())
    return {
      kind: 'samples',
      rateHz: sound.sampleRate,
      channels: Array.from({ length: sound.numberOfChannels }, (_, i) => sound.getChannelData(i)),
    }
  } catch (error) {
    throw new Trouble([texts.tell.undecoded(file.name, faultText(error))])
  }
}

async function isWav(file: File): Promise<boolean> {
  const head = String.fromCharCode(...new Uint8Array(await file.slice(0, 12).arrayBuffer()))
  return /^(?:RIFF|RF64|BW64)....WAVE$/s.test(head)
}
