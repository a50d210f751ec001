import type { Recording } from '../recording.ts'
import type { Reading, Warning } from './document.ts'
import type { Epoch } from './zeros.ts'

export interface WarningInput {
  readonly epochs: readonly Epoch[]
  readonly recording: Recording
  readonly calibrated: boolean
}

/** What a person at the bench must know of this reading, in plain sentences with the figures in them. */
export function warningsOf(reading: Omit<Reading, 'warnings'>, input: WarningInput): Warning[] {
  const { recording, events } = reading
  const out: Warning[] = []
  const say = (code: string, text: string): void => void out.push({ code, text })
  const preload = input.epochs.find(e => e.preloadN > 0)
  if (preload) {
    say(
      'zero-set-under-load',
      `The indicator was zeroed with ${newton(preload.preloadN)} on the specimen. Forces are corrected by the rest after the break; zero it before taking up the slack.`,
    )
  }
  if (input.epochs.some(e => e.unseen)) {
    say(
      'zero-unknown',
      'No stretch without load was recorded, so the true zero is not known and forces may be too low by whatever load the specimen carried at zero. Keep recording for a few seconds after the break.',
    )
  }
  if (events.some(e => e.kind === 'rezero')) {
    say(
      'zero-set-again',
      'The indicator was zeroed again in the middle of the recording. Each part is read with its own zero.',
    )
  }
  if (recording.overRange) {
    say(
      'over-range',
      `The reading is cut flat at ${newton(recording.overRange.limitN)} for ${recording.overRange.count} samples, so the true peak is at least that. Use a stronger cell or a lower gain.`,
    )
  }
  if (recording.gaps.length > 0) {
    const longest = Math.max(...recording.gaps.map(g => g.toS - g.fromS))
    say('gap', `${recording.gaps.length} gap(s) without samples, the longest ${longest.toFixed(2)} s.`)
  }
  if (recording.spikes.length > 0) {
    say('spike', `${recording.spikes.length} single-sample glitch(es) were taken out.`)
  }
  if (events.some(e => e.kind === 'slip')) {
    say('slip', 'The specimen slipped in its grips: force fell without loss of stiffness.')
  }
  if (!events.some(e => e.kind === 'break') && reading.pulls.length > 0) {
    say('no-break', 'No break was recorded.')
  }
  if (!input.calibrated) {
    say('not-calibrated', 'No calibration was given: the doubt does not cover an error of the scale itself.')
  }
  for (const { code, text } of input.recording.assumptions) say(code, text)
  return out
}

const newton = (forceN: number): string => `${Number(forceN.toPrecision(3))} N`
