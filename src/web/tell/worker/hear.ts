import { fine, type Outcome } from '../../../core/problem.ts'
import { envelopeOf, type SoundEnvelope, SoundMeter } from '../../../publish/sync/soundEnvelope.ts'
import { WavReader } from '../../../publish/sync/wav.ts'
import type { Sound } from './types.ts'

/** How loud a sound is; a WAV goes through in pieces, so that a long one needs no memory. */
export async function heard(sound: Sound, name: string): Promise<Outcome<SoundEnvelope>> {
  if (sound.kind === 'samples') return fine(envelopeOf(sound.channels, sound.rateHz))
  let meter: SoundMeter | null = null
  const reader = new WavReader(name, (samples, { rateHz, channels }) => {
    meter ??= new SoundMeter(rateHz, channels)
    meter.push(samples)
  })
  const pieces = sound.file.stream().getReader()
  for (;;) {
    const { done, value } = await pieces.read()
    if (done) break
    reader.push(value)
  }
  const read = reader.finish()
  if (!read.ok) return read
  meter ??= new SoundMeter(read.value.rateHz, read.value.channels)
  return fine(meter.finish())
}
