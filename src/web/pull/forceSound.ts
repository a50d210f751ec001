/** One octave for each doubling would be too much for an ear that works: two octaves from no load to the planned peak. */
const LOWEST_HZ = 160
const OCTAVES = 2
const LOUD = 0.06
const GLIDE_S = 0.03
const CLICK_S = 0.04

/** The pitch for a share of the planned peak (or of the capacity); silent near nought. */
export const pitchHz = (share: number): number =>
  LOWEST_HZ * 2 ** (OCTAVES * Math.min(1.5, Math.max(0, share)))

const SILENT_BELOW = 0.01

export interface ForceSound {
  /** The force as a share of what is expected. */
  follow(share: number): void
  /** A part has let go. */
  click(): void
  stop(): void
}

/** A tone that rises with the force, for one who watches the specimen and not the screen. */
export function startForceSound(): ForceSound {
  const audio = new AudioContext()
  const tone = audio.createOscillator()
  const volume = audio.createGain()
  tone.type = 'triangle'
  tone.frequency.value = pitchHz(0)
  volume.gain.value = 0
  tone.connect(volume).connect(audio.destination)
  tone.start()
  return {
    follow(share) {
      tone.frequency.setTargetAtTime(pitchHz(share), audio.currentTime, GLIDE_S)
      volume.gain.setTargetAtTime(share > SILENT_BELOW ? LOUD : 0, audio.currentTime, GLIDE_S)
    },
    click() {
      const length = Math.ceil(CLICK_S * audio.sampleRate)
      const noise = audio.createBuffer(1, length, audio.sampleRate)
      const samples = noise.getChannelData(0)
      for (let i = 0; i < length; i++) samples[i] = (Math.random() * 2 - 1) * Math.exp((-8 * i) / length)
      const source = audio.createBufferSource()
      const loud = audio.createGain()
      loud.gain.value = 4 * LOUD
      source.buffer = noise
      source.connect(loud).connect(audio.destination)
      source.start()
    },
    stop() {
      tone.stop()
      void audio.close()
    },
  }
}
