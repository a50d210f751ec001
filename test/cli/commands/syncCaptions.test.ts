import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { WebVTTParser } from 'webvtt-parser'
import { writeCsv } from '../../../src/logs/index.ts'
import { type Placement, parseSync } from '../../../src/publish/sync/document.ts'
import { type Filmed, filmed, soundOf } from '../../publish/sync/pretendClip.ts'
import { wavFile } from '../../publish/sync/sounds.ts'
import { ran } from '../fakeIo.ts'

const RATE_HZ = 16_000
let folder = ''
const at = (name: string): string => join(folder, name)
const first = filmed({ kind: 'hot-melt', seed: 4, offsetS: 5, rateHz: 80 })
const second = filmed({ kind: 'stitching', seed: 5, offsetS: 60, rateHz: 80 })
const LENGTH_S = 130

const logOf = (pull: Filmed, name: string): void =>
  writeFileSync(at(name), [...writeCsv(pull.recording, { unit: 'kgf' })].join(''))
const text = (name: string): string => readFileSync(at(name), 'utf8')

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-sync-'))
  logOf(first, 'first.csv')
  logOf(second, 'second.csv')
  const sound = soundOf([first, second], { seed: 2, lengthS: LENGTH_S, rateHz: RATE_HZ })
  writeFileSync(at('clip.wav'), wavFile(sound, { rateHz: RATE_HZ, channels: 1, bits: 16 }))
  const noise = soundOf([], { seed: 3, lengthS: 40, rateHz: RATE_HZ, extra: 20 })
  writeFileSync(at('else.wav'), wavFile(noise, { rateHz: RATE_HZ, channels: 1, bits: 16 }))
}, 60_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('sync', () => {
  test('two logs in one clip: where each begins, how sure, and what agreed', async () => {
    const { code, out, err } = await ran([
      'sync',
      at('clip.wav'),
      at('first.csv'),
      at('second.csv'),
      '--out',
      at('clip.sync.json'),
    ])
    expect(err).not.toContain('tenterhook:')
    expect(code).toBe(0)
    expect(out).toMatch(/^clip\.wav: 2:10\.000 long, \d+ clicks heard\n/)
    expect(out).toMatch(/first\.csv\n {2}begins at {2}(4\.99\d|5\.0[01]\d) s ± 0\.0\d+ s\n/)
    expect(out).toContain('Confident: ')
    expect(out).toMatch(/tap {8}\d+\.\d{3} s in the clip, /)
    const sync = parseSync(text('clip.sync.json'), 'clip.sync.json')
    expect(sync.ok && sync.value.placements.map(p => [p.recording.name, p.confident])).toEqual([
      ['first.csv', true],
      ['second.csv', true],
    ])
  })

  test('--json prints the document', async () => {
    const { out } = await ran(['sync', at('clip.wav'), at('first.csv'), '--json'])
    expect(parseSync(out, 'out').ok).toBe(true)
  })

  test('a clip of something else: exit code 1, and no word of being confident', async () => {
    const { code, out } = await ran(['sync', at('else.wav'), at('first.csv')])
    expect(code).toBe(1)
    expect(out).not.toContain('Confident: ')
    expect(out).toMatch(/Not confident|not placed/)
  })

  test('a place known to ± 22 ms is good enough at 30 frames a second; one known to ± 36 ms names --accept', async () => {
    const film = (spec: { kind: 'hot-melt' | 'stitching'; seed: number; rateHz: number }, name: string) => {
      const pull = filmed({ ...spec, offsetS: 8.4 })
      const { timeS } = pull.recording
      const lengthS = timeS.at(-1)! - timeS[0]! + 15
      const sound = soundOf([pull], { seed: spec.seed, lengthS, rateHz: RATE_HZ, extra: 2 })
      logOf(pull, `${name}.csv`)
      writeFileSync(at(`${name}.wav`), wavFile(sound, { rateHz: RATE_HZ, channels: 1, bits: 16 }))
    }
    film({ kind: 'stitching', seed: 3, rateHz: 10 }, 'within')
    film({ kind: 'hot-melt', seed: 6, rateHz: 12 }, 'beyond')
    const run = async (name: string, ...flags: string[]) => {
      const { code, out } = await ran(['sync', at(`${name}.wav`), at(`${name}.csv`), ...flags, '--json'])
      const sync = parseSync(out, 'out')
      if (!sync.ok) throw new Error('no document')
      const [{ uncertaintyS, confident, accepted }] = sync.value.placements as [Placement]
      return { code, uncertaintyS, confident, accepted }
    }
    const within = await run('within')
    expect(within).toMatchObject({ code: 0, confident: true, accepted: true })
    expect(within.uncertaintyS).toBeGreaterThan(0.02)
    expect(within.uncertaintyS).toBeLessThan(1 / 30)
    const beyond = await run('beyond')
    expect(beyond).toMatchObject({ code: 1, confident: false, accepted: false })
    expect(beyond.uncertaintyS).toBeGreaterThan(1 / 30)
    const told = await ran(['sync', at('beyond.wav'), at('beyond.csv')])
    expect(told.out).toMatch(/the place is right .* but known only to ± 0\.03\d s/)
    expect(told.out).toContain('--accept takes it as it is, --nudge moves it')
    expect(await run('beyond', '--accept')).toMatchObject({ code: 0, confident: false, accepted: true })
  })

  test('by hand, and a nudge', async () => {
    const byHand = await ran([
      'sync',
      at('else.wav'),
      at('first.csv'),
      '--offset',
      '0:03.5',
      '--nudge',
      '-0.25',
    ])
    expect(byHand.code).toBe(0)
    expect(byHand.out).toContain('begins at  3.250 s, nudged by −0.250 s')
    expect(byHand.out).toContain('Placed by hand')
  })

  test.each([
    [['sync', 'no.wav', 'LOG'], 3, 'there is no such file'],
    [['sync', 'CLIP', 'no.csv'], 3, 'there is no such file'],
    [['sync', 'CLIP', 'LOG', '--offset', 'soon'], 2, 'It must be seconds'],
    [['sync', 'CLIP', 'LOG', 'LOG', '--offset', '3'], 2, 'cannot place several'],
    [['sync', 'CLIP', 'LOG', '--clock-ppm', '0'], 2, 'above 0'],
    [['sync', 'CLIP', 'LOG', '--out', 'no/such/folder/x.json'], 4, 'its folder is not there'],
    [['sync', 'CLIP'], 2, 'name logs, or a study'],
  ])('%j ends with %i', async (words, code, told) => {
    const real = words.map(w => (w === 'CLIP' ? at('clip.wav') : w === 'LOG' ? at('first.csv') : w))
    const result = await ran(real)
    expect(result.err.toLowerCase()).toContain(told.toLowerCase())
    expect(result.code).toBe(code)
  })
})

describe('captions', () => {
  const parsed = (name: string) => {
    const { cues, errors } = new WebVTTParser().parse(text(name), 'captions')
    expect(errors).toEqual([])
    return cues
  }

  test('by the sync document: both specimens, to the length of the clip', async () => {
    await ran(['sync', at('clip.wav'), at('first.csv'), at('second.csv'), '--out', at('both.json')])
    const { code, out, err } = await ran([
      'captions',
      at('first.csv'),
      at('second.csv'),
      '--sync',
      at('both.json'),
      '--out',
      at('both.vtt'),
    ])
    expect(err).not.toContain('tenterhook:')
    expect(code).toBe(0)
    expect(out).toMatch(/^\d+ captions, \d+ of them a break, written to .*both\.vtt\n$/)
    const cues = parsed('both.vtt')
    expect(cues[0]?.startTime).toBeCloseTo(5, 1)
    expect(cues[0]?.text).toMatch(/^first: .* kgf · peak so far .* kgf$/)
    expect(cues.at(-1)?.text).toMatch(/^second: /)
    expect(cues.at(-1)!.endTime).toBeLessThanOrEqual(LENGTH_S)
  })

  test('by hand, as SRT, cut to the length', async () => {
    const { code } = await ran([
      'captions',
      at('first.csv'),
      '--offset',
      '-2',
      '--length',
      '9.5',
      '--show',
      'N',
      '--out',
      at('a.srt'),
    ])
    expect(code).toBe(0)
    const blocks = text('a.srt').trim().split('\r\n\r\n')
    expect(blocks[0]).toMatch(/^1\r\n00:00:00,000 --> 00:00:00,500\r\n.* N · peak so far .* N$/)
    expect(blocks.at(-1)).toContain('--> 00:00:09,500')
  })

  test.each([
    [['--offset', '0', '--out', 'x.txt'], 2, '.vtt or .srt'],
    [['--offset', '0'], 2, "equired option '--out"],
    [['--offset', '0', '--sync', 'x.json', '--out', 'x.vtt'], 2, 'cannot be used with'],
    [['--sync', 'no.json', '--out', 'x.vtt'], 3, 'there is no such file'],
    [['--offset', '500', '--length', '10', '--out', 'x.vtt'], 3, 'nothing to caption'],
    [['--per-second', '100', '--out', 'x.vtt'], 2, 'at most 30'],
    [['--out', 'no/such/folder/x.vtt'], 4, 'its folder is not there'],
  ])('%j ends with %i', async (flags, code, told) => {
    const result = await ran(['captions', at('first.csv'), ...flags])
    expect(result.err).toContain(told)
    expect(result.code).toBe(code)
  })

  test('several specimens need a sync document; one that is not accepted is not used', async () => {
    const several = await ran(['captions', at('first.csv'), at('second.csv'), '--out', at('x.vtt')])
    expect(several.code).toBe(3)
    expect(several.err).toContain('one offset cannot place 2 specimens')
    writeFileSync(at('broken.json'), '{"document": "tenterhook.sync", "version": 1}')
    const broken = await ran(['captions', at('first.csv'), '--sync', at('broken.json'), '--out', at('x.vtt')])
    expect(broken.code).toBe(3)
    expect(broken.err).toContain('schemas/sync.json')
    await ran(['sync', at('clip.wav'), at('second.csv'), '--out', at('second.json')])
    const other = await ran(['captions', at('first.csv'), '--sync', at('second.json'), '--out', at('x.vtt')])
    expect(other.err).toContain('it has no place in this clip')
  })
})
