/** How loud a sound is within the band of clicks, a number a millisecond or so. */
export interface SoundEnvelope {
  readonly hopS: number
  /** Mean square of the band in each hop, summed over the channels; full scale is 1. */
  readonly energy: Float32Array
  /** Of the whole sound. */
  readonly lengthS: number
}

/** Fewer samples than this say little of how loud a hop is. */
const HOP_S = 0.001
const LEAST_HOP = 16
const BLOCK_FRAMES = 16_384
/**
 * A knock on metal and the crack of a break are broad; hum, wind and most of a voice lie below 2 kHz (common
 * practice, no source). Where the sampling is too slow for the band, its edges come down.
 */
const BAND_HZ = { low: 2_000, high: 9_000 }

/**
 * Takes a sound in pieces and keeps one number a millisecond of it (15 MB for an hour), so that long clips
 * need little memory. Channels are filtered one by one: two that cancel each other still count.
 */
export class SoundMeter {
  private readonly hop: number
  private readonly filters: readonly BandPass[]
  private energy = new Float32Array(4096)
  private hops = 0
  private sum = 0
  private inHop = 0
  private frames = 0

  constructor(
    private readonly rateHz: number,
    private readonly channels: number,
  ) {
    this.hop = Math.max(LEAST_HOP, Math.round(rateHz * HOP_S))
    this.filters = Array.from({ length: channels }, () => bandPass(rateHz))
  }

  /** Samples with the channels interleaved. */
  push(interleaved: Float32Array): void {
    const { channels, filters, hop } = this
    for (let i = 0; i + channels <= interleaved.length; i += channels) {
      for (let c = 0; c < channels; c++) {
        const value = filters[c]!(interleaved[i + c]!)
        this.sum += value * value
      }
      this.frames++
      if (++this.inHop < hop) continue
      this.keep(this.sum / hop)
      this.sum = 0
      this.inHop = 0
    }
  }

  finish(): SoundEnvelope {
    return {
      hopS: this.hop / this.rateHz,
      energy: this.energy.slice(0, this.hops),
      lengthS: this.frames / this.rateHz,
    }
  }

  private keep(energy: number): void {
    if (this.hops === this.energy.length) {
      const longer = new Float32Array(2 * this.hops)
      longer.set(this.energy)
      this.energy = longer
    }
    this.energy[this.hops++] = energy
  }
}

/** The same of a sound that is at hand whole, channel by channel, as a browser's decoder gives it. */
export function envelopeOf(channels: readonly Float32Array[], rateHz: number): SoundEnvelope {
  if (channels.length === 0) return { hopS: HOP_S, energy: new Float32Array(0), lengthS: 0 }
  const frames = Math.min(...channels.map(c => c.length))
  const meter = new SoundMeter(rateHz, channels.length)
  const block = new Float32Array(BLOCK_FRAMES * channels.length)
  for (let from = 0; from < frames; from += BLOCK_FRAMES) {
    const count = Math.min(BLOCK_FRAMES, frames - from)
    for (const [c, samples] of channels.entries())
      for (let i = 0; i < count; i++) block[i * channels.length + c] = samples[from + i]!
    meter.push(block.subarray(0, count * channels.length))
  }
  return meter.finish()
}

type BandPass = (sample: number) => number

function bandPass(rateHz: number): BandPass {
  const high = secondOrder('high', Math.min(BAND_HZ.low, 0.12 * rateHz), rateHz)
  const low = secondOrder('low', Math.min(BAND_HZ.high, 0.42 * rateHz), rateHz)
  return sample => low(high(sample))
}

/**
 * Butterworth section of second order by the bilinear transform (R. Bristow-Johnson, Audio EQ Cookbook, Q =
 * 1/√2).
 */
function secondOrder(pass: 'high' | 'low', edgeHz: number, rateHz: number): BandPass {
  const w = (2 * Math.PI * edgeHz) / rateHz
  const cos = Math.cos(w)
  const alpha = Math.sin(w) / Math.SQRT2
  const a0 = 1 + alpha
  const edge = pass === 'low' ? (1 - cos) / 2 : (1 + cos) / 2
  const b0 = edge / a0
  const b1 = ((pass === 'low' ? 2 : -2) * edge) / a0
  const a1 = (-2 * cos) / a0
  const a2 = (1 - alpha) / a0
  let s1 = 0
  let s2 = 0
  return sample => {
    const out = b0 * sample + s1
    // A filter left alone would run down into denormal numbers, which are slow.
    s1 = b1 * sample - a1 * out + s2 + 1e-25
    s2 = b0 * sample - a2 * out
    return out
  }
}
