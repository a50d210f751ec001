import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { decodeSound } from '../../../src/publish/node/ffmpegSound.ts'
import { readSoundFile } from '../../../src/publish/node/soundFile.ts'
import { findTransients } from '../../../src/publish/sync/transients.ts'
import { clickSound, wavFile } from '../sync/sounds.ts'

const CLICKS_S = [0.73, 1.9, 2.41, 4.2]
const RATE_HZ = 48_000
let folder = ''
const at = (name: string): string => join(folder, name)
const ffmpeg = (...words: string[]): void => {
  const { status, stderr } = spawnSync('ffmpeg', ['-nostdin', '-y', '-v', 'error', ...words], {
    encoding: 'utf8',
  })
  expect(`${status} ${stderr}`).toBe('0 ')
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-sound-'))
  const sound = clickSound({ seed: 4, rateHz: RATE_HZ, lengthS: 5, clicksS: CLICKS_S })
  writeFileSync(at('plain.wav'), wavFile(sound, { rateHz: RATE_HZ, channels: 1, bits: 24 }))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

async function clicksIn(name: string): Promise<number[]> {
  const sound = await readSoundFile(at(name))
  if (!sound.ok) throw new Error(JSON.stringify(sound.problems))
  return findTransients(sound.value).map(t => t.atS)
}
const expectClicks = (found: readonly number[], laterS = 0, withinS = 0.003): void => {
  expect(found.length).toBe(CLICKS_S.length)
  for (const [i, clickS] of CLICKS_S.entries())
    expect(Math.abs(found[i]! - clickS - laterS)).toBeLessThan(withinS)
}
const told = async (name: string): Promise<string> => {
  const sound = await readSoundFile(at(name))
  return sound.ok ? '' : sound.problems.map(p => `${p.what} ${p.cure}`).join(' ')
}

test('WAV is read without any other program', async () => expectClicks(await clicksIn('plain.wav')))

test('where ffmpeg is not installed, the problem names it and the cure', async () => {
  writeFileSync(at('clip.mp4'), 'no clip')
  const sound = await decodeSound(at('clip.mp4'), { onBytes: () => {}, program: 'no-such-ffmpeg' })
  expect(sound).toMatchObject({ ok: false, problems: [{ cure: expect.stringContaining('Install ffmpeg') }] })
})

/** `npm test` installs ffmpeg or ends (scripts/systemPackages.mjs): this is skipped only in a run by hand without it. */
const there = spawnSync('ffmpeg', ['-version']).status === 0
describe.skipIf(!there)(`with ffmpeg${there ? '' : ' (skipped: ffmpeg is not installed)'}`, () => {
  test.each([
    ['pcm_u8', 'a.wav', []],
    ['pcm_s16le', 'b.wav', []],
    ['pcm_s24le', 'c.wav', ['-ac', '2']],
    ['pcm_s32le', 'd.wav', ['-rf64', 'always']],
    ['pcm_f32le', 'e.wav', ['-ac', '6']],
    ['pcm_f64le', 'f.wav', ['-ar', '96000']],
  ])('WAV as ffmpeg writes it: %s', async (codec, name, extra) => {
    ffmpeg('-i', at('plain.wav'), ...extra, '-c:a', codec, at(name))
    expectClicks(await clicksIn(name))
  })

  test.each([
    ['aac', 'a.mp4'],
    ['libmp3lame', 'b.mp3'],
    ['libopus', 'c.webm'],
    ['flac', 'd.flac'],
  ])('other containers: %s in %s', async (codec, name) => {
    ffmpeg('-i', at('plain.wav'), '-c:a', codec, ...(codec === 'flac' ? [] : ['-b:a', '160k']), at(name))
    // What a lossy codec smears before a click, and what an encoder puts before the first sample.
    expectClicks(await clicksIn(name), 0, 0.03)
  })

  test('a sound track that starts later than its clip is laid on the times of the clip', async () => {
    ffmpeg(
      ...['-f', 'lavfi', '-i', 'color=black:size=64x48:rate=25:duration=7'],
      ...['-itsoffset', '1.5', '-i', at('plain.wav')],
      ...['-map', '0:v', '-map', '1:a', '-c:v', 'ffv1', '-c:a', 'flac', at('late.mkv')],
    )
    expectClicks(await clicksIn('late.mkv'), 1.5)
  })

  test('a clip without sound, a broken one, and an odd name', async () => {
    ffmpeg('-f', 'lavfi', '-i', 'color=black:size=64x48:rate=25:duration=1', '-c:v', 'ffv1', at('mute.mkv'))
    expect(await told('mute.mkv')).toContain('the clip has no sound')
    writeFileSync(at('broken.mp4'), Buffer.alloc(500, 7))
    expect(await told('broken.mp4')).toContain('ffmpeg cannot read it')
    ffmpeg('-i', at('plain.wav'), '-c:a', 'flac', at('x.flac'))
    const odd = at('-i http:x %d.flac')
    spawnSync('cp', [at('x.flac'), odd])
    expect(existsSync(odd)).toBe(true)
    expectClicks(await clicksIn('-i http:x %d.flac'))
  })

  test('it can be stopped', async () => {
    const stop = new AbortController()
    stop.abort()
    const sound = await decodeSound(at('plain.wav'), { onBytes: () => {}, signal: stop.signal })
    expect(sound).toMatchObject({ ok: false, problems: [{ what: 'reading its sound was stopped.' }] })
  })
})
