import { matchPattern } from '../../../src/publish/sync/matchPattern.ts'
import { pretendScene, pretendSpec } from './scenes.ts'

export interface Tally {
  scenes: number
  confident: number
  /** Of the confident: within 20 ms of the truth, off by over 100 ms or laid against a clip of something else, within the doubt. */
  within20ms: number
  /** The same where the recording begins, which the clocks' difference moves. */
  within20msAtStart: number
  wrong: number
  withinDoubt: number
}

/** Matches scenes of seeds `from` to `to` − 1 and counts how the confident ones stand to the truth. */
export function matchMany(from: number, to: number): Tally {
  const tally: Tally = {
    scenes: to - from,
    confident: 0,
    within20ms: 0,
    within20msAtStart: 0,
    wrong: 0,
    withinDoubt: 0,
  }
  for (let seed = from; seed < to; seed++) {
    const spec = pretendSpec(seed)
    const scene = pretendScene(seed, spec)
    const match = matchPattern(scene.moments, scene.transientS, scene.lengthS)
    if (!match?.confident) continue
    tally.confident++
    const { recordingS, clipS } = match.anchor
    const offS = Math.abs(clipS - (scene.offsetS + recordingS * (1 + scene.ppm * 1e-6)))
    if (spec.absent || offS > 0.1) tally.wrong++
    else if (offS <= 0.02) tally.within20ms++
    const startS = clipS - recordingS * (1 + match.ratePpm * 1e-6)
    if (!spec.absent && Math.abs(startS - scene.offsetS) <= 0.02) tally.within20msAtStart++
    if (!spec.absent && offS <= match.uncertaintyS) tally.withinDoubt++
  }
  return tally
}
