/**
 * Frames a second as a fraction, so that frame k of a long clip still stands exactly at k·den/num seconds.
 */
export interface FrameRate {
  readonly num: number
  readonly den: number
}

const MOST_HZ = 480
const LEAST_HZ = 0.1

/**
 * `25`, `12.5`, `30000/1001`, or one of the short names that cameras give the rates of 1000/1001: `23.976`,
 * `23.98`, `29.97`, `47.95`, `59.94`, `119.88`. `null` for what is no rate between 0.1 and 480 a second.
 */
export function parseFrameRate(word: string): FrameRate | null {
  const text = word.trim()
  const fraction = /^(\d{1,9})\/(\d{1,9})$/.exec(text)
  if (fraction) return checked(Number(fraction[1]), Number(fraction[2]))
  if (!/^\d{1,3}(\.\d{1,6})?$/.test(text)) return null
  const hz = Number(text)
  const whole = Math.round(hz * 1.001)
  // 29.97 is 30/1.001 = 29.970 029…, cut after two or three digits.
  if (!Number.isInteger(hz) && whole % 6 === 0 && Math.abs(whole / 1.001 - hz) < 0.005)
    return { num: whole * 1000, den: 1001 }
  return checked(Math.round(hz * 1e6), 1e6)
}

function checked(num: number, den: number): FrameRate | null {
  if (!(den > 0) || !(num / den >= LEAST_HZ && num / den <= MOST_HZ)) return null
  const by = commonDivisor(num, den)
  return { num: num / by, den: den / by }
}

function commonDivisor(a: number, b: number): number {
  return b === 0 ? a : commonDivisor(b, a % b)
}

/** `25`, `30000/1001`: as ffmpeg and people write it. */
export const frameRateWords = ({ num, den }: FrameRate): string => (den === 1 ? `${num}` : `${num}/${den}`)
