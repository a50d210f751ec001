import { describe, expect, test } from 'vitest'
import { parseSync } from '../../../src/publish/sync/document.ts'
import { clipTimeAt, nudged, placementsOf, seenAt } from '../../../src/publish/sync/place.ts'
import { type SoundEnvelope, SoundMeter } from '../../../src/publish/sync/soundEnvelope.ts'
import { syncClip } from '../../../src/publish/sync/syncClip.ts'
import { sureWords } from '../../../src/publish/sync/words.ts'
import { type Filmed, filmed, soundOf } from './pretendClip.ts'

const RATE_HZ = 16_000
function envelope(sound: Float32Array): SoundEnvelope {
  const meter = new SoundMeter(RATE_HZ, 1)
  meter.push(sound)
  return meter.finish()
}
const clipOf = (pulls: readonly Filmed[], seed: number, lengthS: number, extra = 5): SoundEnvelope =>
  envelope(soundOf(pulls, { seed, lengthS, rateHz: RATE_HZ, extra }))

const lengthOf = ({ recording: { timeS } }: Filmed): number => timeS.at(-1)! - timeS[0]!

/** How far the first placement is off at its anchor. */
function offS(pull: Filmed, sync: ReturnType<typeof syncClip>): number {
  const { anchor } = sync.placements[0]!
  const { offsetS, ppm, recording } = pull
  return anchor.clipS - (offsetS + (anchor.recordingS - recording.timeS[0]!) * (1 + ppm * 1e-6))
}

/** The 1,000 scenes of matchPattern.test.ts begin with transients; these go through samples of sound and of force. */
test('pretend pulls, filmed: the sound itself is searched, the taps are found in the recording', () => {
  let confident = 0
  for (const [i, kind] of (
    ['hot-melt', 'stitching', 'brittle', 'slips', 'saw-tooth', 'wheat-paste'] as const
  ).entries())
    for (const ppm of [0, 200]) {
      const pull = filmed({ kind, seed: 20 + i, offsetS: 3.217 + i, ppm, rateHz: 80 })
      const sync = syncClip([pull], clipOf([pull], i, lengthOf(pull) + 20), { name: 'clip.wav' })
      if (!sync.placements[0]?.confident) continue
      confident++
      expect(Math.abs(offS(pull, sync))).toBeLessThan(0.02)
    }
  expect(confident).toBeGreaterThanOrEqual(9)
})

test('ten readings a second: what is called confident is within 20 ms all the same', () => {
  for (let seed = 1; seed <= 6; seed++) {
    const pull = filmed({ kind: 'hot-melt', seed, offsetS: 8.4, rateHz: 10 })
    const sync = syncClip([pull], clipOf([pull], seed, lengthOf(pull) + 15, 2), { name: 'clip.wav' })
    const placement = sync.placements[0]
    if (placement?.confident) expect(Math.abs(offS(pull, sync))).toBeLessThan(0.02)
    else if (placement) expect(sureWords(placement)).toMatch(/^Not confident: /)
  }
})

describe('several specimens in one clip', () => {
  const first = filmed({ kind: 'hot-melt', seed: 4, offsetS: 5, rateHz: 80 })
  const second = filmed({ kind: 'stitching', seed: 5, offsetS: 25 + lengthOf(first), rateHz: 80 })
  const lengthS = 45 + lengthOf(first) + lengthOf(second)
  const sync = syncClip([second, first], clipOf([first, second], 3, lengthS), { name: 'two.wav' })

  test('each is laid where it is, in the order of the clip', () => {
    expect(sync.placements.map(p => [p.recording.name, p.confident])).toEqual([
      [first.recording.name, true],
      [second.recording.name, true],
    ])
    expect(sync.placements[0]!.offsetS).toBeCloseTo(5, 1)
    expect(sync.placements[1]!.offsetS).toBeCloseTo(second.offsetS, 1)
  })
  test('what is seen at a time of the clip', () => {
    expect(seenAt(placementsOf(sync, first.recording), 15)).toBeCloseTo(10 + first.recording.timeS[0]!, 1)
    expect(seenAt(placementsOf(sync, second.recording), 15)).toBeNull()
  })
  test('the document keeps to its schema and comes back', () => {
    expect(parseSync(JSON.stringify(sync), 'x.json')).toEqual({ ok: true, value: sync })
    expect(parseSync('{"document": "tenterhook.sync"}', 'x.json')).toMatchObject({ ok: false })
  })
})

test('one specimen, two clips: each holds its part', () => {
  const pull = filmed({ kind: 'hot-melt', seed: 8, offsetS: 4, rateHz: 80 })
  const lengthS = lengthOf(pull) + 12
  const sound = soundOf([pull], { seed: 1, lengthS, rateHz: RATE_HZ, extra: 0 })
  const cutS = pull.clicksS[Math.floor(pull.clicksS.length / 2)]! - 0.2
  const at = Math.round(cutS * RATE_HZ)
  for (const [part, beginsS] of [
    [sound.subarray(0, at), 4],
    [sound.subarray(at), 4 - at / RATE_HZ],
  ] as const) {
    const placement = syncClip([pull], envelope(part), { name: 'part.wav' }).placements[0]
    expect(placement?.confident).toBe(true)
    expect(clipTimeAt(placement!, pull.recording.timeS[0]!)).toBeCloseTo(beginsS, 1)
  }
})

describe('says so rather than guess', () => {
  test('a clip of something else', () => {
    const pull = filmed({ kind: 'hot-melt', seed: 4, offsetS: 5, rateHz: 80 })
    const sync = syncClip([pull], clipOf([], 9, 90, 30), { name: 'else.wav' })
    expect(sync.placements.some(p => p.accepted)).toBe(false)
  })
  test('silence, and a recording without taps or breaks', () => {
    const pull = filmed({ kind: 'hot-melt', seed: 4, offsetS: 5, rateHz: 80 })
    const silent = syncClip([pull], clipOf([], 9, 60, 0), { name: 'silent.wav' })
    expect(silent.placements).toEqual([])
    expect(silent.notPlaced[0]?.why).toBe('There are not two clicks in the sound.')
    const still = { ...pull, recording: { ...pull.recording, forceN: pull.recording.forceN.map(() => 0) } }
    const nothing = syncClip(
      [{ ...still, reading: { ...pull.reading, events: [], pulls: [] } }],
      clipOf([], 9, 60, 10),
      { name: 'x.wav' },
    )
    expect(nothing.notPlaced[0]?.why).toContain('no tap and no break')
  })
  test('accepted or nudged, it is taken', () => {
    const pull = filmed({ kind: 'brittle', seed: 4, offsetS: 5, rateHz: 10 })
    const sound = clipOf([pull], 2, lengthOf(pull) + 20, 10)
    const found = syncClip([pull], sound, { name: 'x.wav' }).placements[0]
    expect(found?.accepted).toBe(false)
    expect(syncClip([pull], sound, { name: 'x.wav', accept: true }).placements[0]?.accepted).toBe(true)
    expect(nudged(found!, 0.04)).toMatchObject({
      accepted: true,
      nudgeS: 0.04,
      offsetS: found!.offsetS + 0.04,
    })
  })
})
