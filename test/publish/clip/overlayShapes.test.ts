import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { overlayClip } from '../../../src/publish/clip/clip.ts'
import { frameCount, steadyFrames } from '../../../src/publish/clip/frameTimes.ts'
import { clipOf, jobJson, jobOf } from '../../../src/publish/clip/job.ts'
import { momentAt } from '../../../src/publish/clip/moment.ts'
import { numeralWords } from '../../../src/publish/clip/numeral.ts'
import { overlayKey, overlayShapes, PLATE_OPACITY } from '../../../src/publish/clip/overlayShapes.ts'
import type { Shape } from '../../../src/publish/clip/shapes.ts'
import { RESULT_S, takesEndS } from '../../../src/publish/clip/take.ts'
import { rgbOf } from '../../../src/publish/clip/yuva.ts'
import { DARK, LIGHT } from '../../../src/publish/figure/look.ts'
import { demoTake } from './demoTakes.ts'

const STYLE = { width: 1920, height: 1080, look: DARK, ground: 'plate' } as const
const first = demoTake('hot-melt-1', 2)
const second = demoTake('stitching-3', 30)
const takes = [first, second]

const textOf = (shapes: readonly Shape[]): string =>
  shapes.flatMap(shape => (shape.kind === 'words' ? [shape.text] : [])).join(' ')

/** The numeral is set figure by figure. */
const numeralOf = (shapes: readonly Shape[]): string =>
  shapes
    .flatMap(shape => (shape.kind === 'words' && shape.anchor === 'middle' && shape.bold ? [shape.text] : []))
    .join('')

describe('what is known at a moment', () => {
  const { track } = first
  test('is the last sample that had been read, and the greatest so far', () => {
    fc.assert(
      fc.property(fc.double({ min: track.startS, max: track.endS, noNaN: true }), atS => {
        const { sample, forceN, peakSoFarN } = momentAt(track, atS)
        expect(track.timeS[sample]!).toBeLessThanOrEqual(atS)
        expect(track.timeS[sample + 1] ?? Number.POSITIVE_INFINITY).toBeGreaterThan(atS)
        expect(forceN).toBe(track.forceN[sample])
        expect(peakSoFarN).toBe(Math.max(...track.forceN.slice(0, sample + 1)))
      }),
    )
  })

  test('is told as news for a while when a part lets go', () => {
    const event = track.events[0]!
    expect(momentAt(track, event.atS - 0.001).event).toBeNull()
    expect(momentAt(track, event.atS).event).toBe(event)
  })
})

describe('the overlay', () => {
  test('shows nothing before the first recording, between two, and after the last result', () => {
    const firstEndS = 2 + first.track.endS - first.track.startS
    for (const clipS of [0, 1.99, firstEndS + RESULT_S + 0.01, takesEndS(takes) + 0.01])
      expect(overlayShapes(takes, clipS, STYLE)).toEqual([])
    expect(textOf(overlayShapes(takes, 2.01, STYLE))).toContain('hot-melt-1')
    expect(textOf(overlayShapes(takes, 30.01, STYLE))).toContain('stitching-3')
  })

  test('shows the force of its time as its numeral, and the result with its doubt when all is over', () => {
    const { track } = first
    const live = overlayShapes(takes, 2 + 10 - track.startS, STYLE)
    const { forceN } = momentAt(track, 10)
    expect(numeralOf(live)).toBe((forceN! / 9.80665).toFixed(2).replace('-', '−'))
    expect(textOf(live)).toContain('peak so far')
    const after = overlayShapes(takes, 2 + track.endS - track.startS + 0.1, STYLE)
    expect(textOf(after)).toContain(`peak ${track.result.words}`)
    expect(textOf(after)).toContain(`= ${track.result.inNewton}`)
  })

  test('says that the scale was not checked', () => {
    expect(textOf(overlayShapes(takes, 5, STYLE))).toContain('scale not checked')
  })

  test('follows the clocks: a camera that runs 200 ppm ahead and begins earlier', () => {
    const fast = { ...first, place: { ...first.place, ratePpm: 200, nudgeS: 0.5 } }
    const { track } = first
    const recordingS = track.startS + 9.5
    const clipS = 2 + 0.5 + 9.5 * 1.0002
    const shown = numeralOf(overlayShapes([fast], clipS + 1e-6, STYLE))
    expect(shown).toBe(numeralOf(overlayShapes([first], 2 + recordingS - track.startS + 1e-6, STYLE)))
  })

  test('has the same key for two moments exactly when it looks the same', () => {
    const at = fc.double({ min: 0, max: takesEndS(takes), noNaN: true })
    fc.assert(
      fc.property(at, fc.double({ min: 0, max: 0.2, noNaN: true }), (a, step) => {
        const b = a + step
        const same = overlayKey(takes, a) === overlayKey(takes, b)
        const [one, other] = [a, b].map(clipS => JSON.stringify(overlayShapes(takes, clipS, STYLE)))
        if (same) expect(other === one).toBe(true)
      }),
      { numRuns: 40 },
    )
  })

  test.each([
    [1920, 1080],
    [1080, 1920],
    [1080, 1080],
    [321, 181],
    [64, 64],
    [3840, 1600],
  ])('stays within its part of a picture of %i × %i', (width, height) => {
    for (const ground of ['plate', 'rim'] as const) {
      const times = steadyFrames({ num: 1, den: 4 }, takesEndS(takes))
      const clip = overlayClip(takes, times, { ...STYLE, width, height, ground })
      const { part } = clip
      expect((part.x % 2) + (part.y % 2)).toBe(0)
      expect(part.x + part.width).toBeLessThanOrEqual(width)
      expect(part.y + part.height).toBeLessThanOrEqual(height)
      const places = Array.from({ length: frameCount(times) }, (_, k) =>
        clip.shapesAt(k).flatMap(placesOf),
      ).flat()
      const outside = places.filter(
        ([x, y]) => x < part.x || x > part.x + part.width || y < part.y || y > part.y + part.height,
      )
      expect(places.length).toBeGreaterThan(100)
      expect(outside).toEqual([])
    }
  })

  test('is the same after it went to another process as JSON', () => {
    const times = steadyFrames({ num: 5, den: 1 }, 20)
    const job = {
      kind: 'overlay',
      takes,
      times,
      ground: 'rim',
      width: 640,
      height: 360,
      dark: false,
    } as const
    const there = clipOf(jobOf(jobJson(job)))
    const here = clipOf(job)
    for (const k of [0, 30, 60, 99]) expect(there.shapesAt(k)).toEqual(here.shapesAt(k))
  })
})

test('figures stand in cells of one width: nothing moves while they change', () => {
  const place = { x: 500, y: 100, size: 100, colour: '#000000', halo: null }
  const places = (text: string) => numeralWords(text, place).map(word => word.x)
  expect(places('11.11')).toEqual(places('80.64'))
  expect(places('9.99')).toEqual(places('10.00').slice(1))
})

/** WCAG 2.2, relative luminance and contrast ratio. */
function contrast(a: readonly number[], b: readonly number[]): number {
  const luminance = (rgb: readonly number[]) => {
    const [r = 0, g = 0, bl = 0] = rgb.map(v =>
      v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4,
    )
    return 0.2126 * r + 0.7152 * g + 0.0722 * bl
  }
  const [low, high] = [luminance(a), luminance(b)].sort((p, q) => p - q) as [number, number]
  return (high + 0.05) / (low + 0.05)
}

test.each([
  ['dark', DARK],
  ['light', LIGHT],
] as const)(
  'on its plate the %s overlay is legible over white, black and anything between',
  (_name, look) => {
    for (const video of [0, 128, 255]) {
      const plate = rgbOf(look.paper).map(v => PLATE_OPACITY * v + (1 - PLATE_OPACITY) * video)
      expect(contrast(rgbOf(look.ink), plate)).toBeGreaterThanOrEqual(7)
      for (const colour of [look.pencil, look.warning, look.accent])
        expect(contrast(rgbOf(colour), plate)).toBeGreaterThanOrEqual(4.5)
    }
  },
)

function placesOf(shape: Shape): (readonly [number, number])[] {
  switch (shape.kind) {
    case 'box':
      return [
        [shape.x, shape.y],
        [shape.x + shape.width, shape.y + shape.height],
      ]
    case 'stroke':
    case 'dots': {
      const places: [number, number][] = []
      for (let i = 0; i < shape.points.length; i += 2)
        if (!Number.isNaN(shape.points[i]!)) places.push([shape.points[i]!, shape.points[i + 1]!])
      return places
    }
    case 'ring':
      return [
        [shape.x - shape.radius, shape.y - shape.radius],
        [shape.x + shape.radius, shape.y + shape.radius],
      ]
    case 'words':
      return [
        [shape.x, shape.y],
        [shape.x, shape.y - 0.7 * shape.size],
      ]
  }
}
