import { expect, test } from 'vitest'
import { pretendKinds } from '../../../src/capture/pretend/index.ts'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import { SoundMeter } from '../../../src/publish/sync/soundEnvelope.ts'
import { syncClip } from '../../../src/publish/sync/syncClip.ts'
import { filmed, soundOf } from './pretendClip.ts'

const RATE_HZ = 16_000

/** Every kind of pull at its own sampling rate, breaks heard or not, with or without taps, clocks up to 200 ppm apart. */
test('all kinds of pretend pulls through samples of sound: confident ones are right', () => {
  let confident = 0
  let within20ms = 0
  let wrong = 0
  for (const [k, kind] of pretendKinds.entries())
    for (let i = 0; i < 6; i++) {
      const random = seededRandom(1_000 * k + i)
      const pull = filmed({
        kind,
        seed: 500 + i,
        offsetS: 2 + 20 * random.uniform(),
        ppm: 400 * (random.uniform() - 0.5),
        taps: random.uniform() < 0.8,
        breaksHeard: random.uniform() < 0.7,
      })
      const { timeS } = pull.recording
      const lengthS = 30 + timeS.at(-1)! - timeS[0]!
      const absent = random.uniform() < 0.1
      const sound = soundOf(absent ? [] : [pull], {
        seed: k + i,
        lengthS,
        rateHz: RATE_HZ,
        extra: random.below(20),
      })
      const meter = new SoundMeter(RATE_HZ, 1)
      meter.push(sound)
      for (const { confident: sure, anchor, fromS, toS } of syncClip([pull], meter.finish(), {
        name: 'clip.wav',
      }).placements) {
        // Between two logs of a specimen any time may pass: only the first is where the clip has it.
        if (!sure || fromS > timeS[0]! || toS < fromS) continue
        confident++
        const offS = anchor.clipS - (pull.offsetS + (anchor.recordingS - timeS[0]!) * (1 + pull.ppm * 1e-6))
        if (absent || Math.abs(offS) > 0.1) wrong++
        else if (Math.abs(offS) <= 0.02) within20ms++
      }
    }
  expect(confident).toBeGreaterThan(40)
  expect(wrong).toBe(0)
  expect(within20ms / confident).toBeGreaterThanOrEqual(0.95)
})
