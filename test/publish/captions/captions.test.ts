import { parse as parseSrtOrVtt } from '@plussub/srt-vtt-parser'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { WebVTTParser } from 'webvtt-parser'
import { makePull } from '../../../src/capture/pretend/index.ts'
import { correctedForce } from '../../../src/core/reading/correctedForce.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import {
  type CaptionOptions,
  type CaptionTrack,
  type Cue,
  captionCues,
} from '../../../src/publish/captions/cues.ts'
import { writeSrt, writeVtt } from '../../../src/publish/captions/write.ts'
import { RESULT_S, takesEndS } from '../../../src/publish/clip/take.ts'
import { clipTrack } from '../../../src/publish/clip/track.ts'
import { clipTimeAt, nudged, placedByHand } from '../../../src/publish/sync/place.ts'

const { recording } = makePull({ kind: 'hot-melt', seed: 3 })
const reading = readRecording(recording, { elements: 8 })
const startS = recording.timeS[0]!
const endS = recording.timeS.at(-1)!

const track = (offsetS: number, name: string | null = null): CaptionTrack => ({
  recording,
  reading,
  placements: [placedByHand(recording, offsetS)],
  name,
})
const OPTIONS: CaptionOptions = { lengthS: 10 + endS - startS + 5, unit: 'N', perSecond: 2 }

/** The WebVTT working group's own parser; it reports every breach of the standard. */
const vtt = (text: string) => {
  const { cues, errors } = new WebVTTParser().parse(text, 'captions')
  expect(errors).toEqual([])
  return cues.map(c => ({ fromS: c.startTime, toS: c.endTime, text: c.text, id: c.id, tree: c.tree }))
}
/** Its declarations do not resolve under this module resolution. */
const srt = (text: string): readonly { from: number; to: number; text: string }[] =>
  parseSrtOrVtt(text).entries

describe('the cues of one pull', () => {
  const cues = captionCues([track(10)], OPTIONS)

  test('run in order, without overlap or hole, from its first reading until its result has been seen', () => {
    expect(cues[0]?.fromMs).toBe(10_000)
    expect(cues.at(-1)?.toMs).toBe(Math.round(1000 * (10 + endS - startS + RESULT_S)))
    for (const [i, cue] of cues.entries()) {
      expect(cue.toMs).toBeGreaterThan(cue.fromMs)
      if (i > 0) expect(cue.fromMs).toBe(cues[i - 1]!.toMs)
    }
  })

  test('tell the force of the moment and the greatest up to it', () => {
    const forceN = correctedForce(recording, reading)
    const peakS = reading.results.peakForce.atS!
    let told = 0
    for (const { fromMs, lines } of cues) {
      const [, now, peak] = /^([−\d.]+) N · peak so far ([\d.]+) N$/.exec(lines[0]!) ?? []
      if (now === undefined || peak === undefined) continue
      told++
      const atS = fromMs / 1000 - 10 + startS
      expect(atS).toBeLessThan(peakS + 0.002)
      const so = forceN.filter((_, i) => recording.timeS[i]! <= atS + 0.002)
      const near = so.slice(-2).map(f => Math.abs(f - Number(now.replace('−', '-'))))
      expect(Math.min(...near)).toBeLessThanOrEqual(0.051)
      // A cue is cut to the millisecond: the last of these readings may just be after it.
      const peaks = [so, so.slice(0, -1)].map(f => Math.abs(Math.max(0, ...f) - Number(peak)))
      expect(Math.min(...peaks)).toBeLessThanOrEqual(0.051)
    }
    expect(told).toBeGreaterThan(5)
    expect(cues.at(-1)?.lines[0]).toMatch(/ · peak [\d.]+ ± [\d.]+ N$/)
  })

  test('each break begins a cue at its instant and is told for two seconds', () => {
    const breaks = reading.events.filter(e => e.kind === 'break' || e.kind === 'partial-break')
    expect(breaks.length).toBeGreaterThan(3)
    const begun = cues.filter(c => c.breakOf !== null)
    expect(begun.map(c => c.fromMs)).toEqual(breaks.map(e => Math.round(1000 * (10 + e.atS - startS))))
    for (const { fromMs, lines } of begun) {
      expect(lines[1]).toMatch(/^(a part let go|broke), −/)
      expect(
        cues.filter(c => c.fromMs >= fromMs && c.fromMs < fromMs + 1_999).every(c => c.lines.length === 2),
      ).toBe(true)
    }
  })

  test('WebVTT: the working group’s parser finds the same cues and no fault', () => {
    const parsed = vtt(writeVtt(cues, 'Force in N'))
    expect(parsed.map(c => [Math.round(1000 * c.fromS), Math.round(1000 * c.toS), c.text])).toEqual(
      cues.map(c => [c.fromMs, c.toMs, c.lines.join('\n')]),
    )
    expect(parsed.filter(c => c.id.startsWith('break')).length).toBe(
      cues.filter(c => c.breakOf !== null).length,
    )
  })

  test('SRT: another parser finds the same cues', () => {
    expect(srt(writeSrt(cues)).map(c => [c.from, c.to, c.text.replaceAll('\r', '')])).toEqual(
      cues.map(c => [c.fromMs, c.toMs, c.lines.join('\n')]),
    )
  })
})

test('cut to the clip: nothing before it, nothing after it', () => {
  const cut = captionCues([track(-8)], { ...OPTIONS, lengthS: 7.4 })
  expect(cut[0]?.fromMs).toBe(0)
  expect(cut.at(-1)?.toMs).toBe(7_400)
  expect(captionCues([track(-1e4)], OPTIONS)).toEqual([])
  expect(captionCues([track(1e4)], OPTIONS)).toEqual([])
})

test('the rate and the unit are as asked; a nudge moves all', () => {
  const many = captionCues([track(0)], { ...OPTIONS, perSecond: 10, unit: 'kgf' })
  expect(many.filter(c => c.fromMs < 3_000 && c.breakOf === null).length).toBe(30)
  expect(many[0]?.lines[0]).toMatch(/ kgf · peak so far .* kgf$/)
  const moved = { ...track(0), placements: [nudged(placedByHand(recording, 0), 0.25)] }
  expect(captionCues([moved], OPTIONS)[0]?.fromMs).toBe(250)
  expect(() => captionCues([track(0)], { ...OPTIONS, perSecond: 0 })).toThrow(RangeError)
})

test('two specimens of one clip follow each other, with their names', () => {
  const half = endS - startS
  const cues = captionCues([track(half + 20, 'second'), track(5, 'first')], {
    ...OPTIONS,
    lengthS: 2 * half + 40,
  })
  expect(cues[0]?.lines[0]).toMatch(/^first: /)
  expect(cues.at(-1)?.lines[0]).toMatch(/^second: /)
})

test('a clock that runs off is followed', () => {
  const placement = { ...placedByHand(recording, 0), ratePpm: 400 }
  const last = captionCues([{ ...track(0), placements: [placement] }], { ...OPTIONS, lengthS: 1e4 }).at(-1)
  expect(last?.toMs).toBe(Math.round(1000 * (clipTimeAt(placement, endS) + RESULT_S)))
})

const NASTY = [
  '<script>alert(1)</script>',
  '00:00:01.000 --> 00:00:02.000',
  'a\n\n1\n00:00:01,000 --> 00:00:02,000\nb',
  '\u001b[31m red \u202e back',
  '&lt;i&gt; <b>&amp;',
  '{\\an8}top',
  'WEBVTT',
  'NOTE x',
  ' ',
]
test.each(NASTY)('hostile text is text: %j', name => {
  check([{ fromMs: 0, toMs: 1_000, lines: [`${name}: 1 N`, name], breakOf: null }])
})
test('whatever the text, both parsers find as many cues as were written, without tags', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), fc.constantFrom(...NASTY), (text, nasty) =>
      check([
        { fromMs: 0, toMs: 1_000, lines: [text], breakOf: null },
        { fromMs: 1_000, toMs: 2_500, lines: [`${text}${nasty}`, text], breakOf: 1 },
      ]),
    ),
  )
})

function check(cues: readonly Cue[]): void {
  const parsed = vtt(writeVtt(cues, cues[0]!.lines[0]))
  expect(parsed.length).toBe(cues.length)
  for (const { tree } of parsed) expect(tree.children.every(node => node.type === 'text')).toBe(true)
  const text = writeSrt(cues)
  expect(text.replaceAll(' --> ', '')).not.toMatch(/[<>{}]/)
  expect(srt(text).length).toBe(cues.length)
}

test('captions and overlay of one log end together', () => {
  const place = placedByHand(recording, 10)
  const take = { track: clipTrack(recording, reading, { name: 'one', unit: 'N' }), place }
  const last = captionCues([track(10)], { ...OPTIONS, lengthS: takesEndS([take]) + 60 }).at(-1)
  expect(Math.abs(last!.toMs / 1000 - takesEndS([take]))).toBeLessThan(0.001)
})

test('a result gives way to the recording that comes next, whichever is listed first', () => {
  const nextS = 10 + endS - startS + 1.25
  for (const tracks of [
    [track(10, 'one'), track(nextS, 'two')],
    [track(nextS, 'two'), track(10, 'one')],
  ]) {
    const cues = captionCues(tracks, { ...OPTIONS, lengthS: 1e4 })
    const told = (from: number, to: number) =>
      new Set(
        cues
          .filter(({ fromMs }) => fromMs >= 1000 * from && fromMs < 1000 * to)
          .map(({ lines }) => lines[0]!.split(':')[0]),
      )
    expect([...told(10, nextS)]).toEqual(['one'])
    expect([...told(nextS, 1e4)]).toEqual(['two'])
  }
})
