import { Resvg } from '@resvg/resvg-js'
import { describe, expect, test } from 'vitest'
import { changedAreas } from '../../../src/publish/clip/changedAreas.ts'
import type { Clip } from '../../../src/publish/clip/clip.ts'
import { frameCount, steadyFrames } from '../../../src/publish/clip/frameTimes.ts'
import { clipOf } from '../../../src/publish/clip/job.ts'
import type { Shape } from '../../../src/publish/clip/shapes.ts'
import { shapesSvg } from '../../../src/publish/clip/shapesSvg.ts'
import { walkOf } from '../../../src/publish/clip/walkClip.ts'
import { fontOptions } from '../../../src/publish/node/png.ts'
import { demoRead, demoTake } from './demoTakes.ts'

const WIDTH = 320
const HEIGHT = 180
const whole = { x: 0, y: 0, width: WIDTH, height: HEIGHT }
const rastered = (shapes: readonly Shape[]): Uint8Array =>
  new Resvg(shapesSvg(shapes, whole), { font: fontOptions() }).render().pixels

/** The renderer may round a soft edge otherwise where a line has grown elsewhere. */
const looksSame = (a: Uint8Array, b: Uint8Array, at: number): boolean =>
  [0, 1, 2, 3].every(c => Math.abs(a[at + c]! - b[at + c]!) <= 2)

const HZ = { num: 5, den: 1 }
const clips: [string, () => Clip][] = (['plate', 'rim'] as const).map(ground => [
  `an overlay with ${ground}`,
  () =>
    clipOf({
      kind: 'overlay',
      takes: [demoTake('hot-melt-1', 0.3)],
      times: steadyFrames(HZ, 12),
      ground,
      width: WIDTH,
      height: HEIGHT,
      dark: ground === 'rim',
    }),
])
clips.push([
  'a walk through a curve',
  () => {
    const { name, recording, reading } = demoRead('stitching-1')[0]!
    const walk = walkOf(recording, reading, { name, unit: 'N' })
    return clipOf({
      kind: 'walk',
      walk,
      pace: { rate: HZ, stepS: 1 },
      width: WIDTH,
      height: HEIGHT,
      dark: false,
    })
  },
])

describe.each(clips)('%s', (_, make) => {
  test('looks the same outside the areas that are drawn anew, and most of it is outside', () => {
    const clip = make()
    const frames = Array.from({ length: Math.min(25, frameCount(clip.times)) }, (_, k) => clip.shapesAt(k))
    let drawn = 0
    for (const [k, now] of frames.entries()) {
      if (k === 0) continue
      const before = frames[k - 1]!
      const areas = changedAreas(before, now, whole)
      drawn += areas.reduce((sum, { width, height }) => sum + width * height, 0)
      const [a, b] = [rastered(before), rastered(now)]
      let strays = 0
      for (let i = 0; i < WIDTH * HEIGHT; i++) {
        if (looksSame(a, b, 4 * i)) continue
        const [x, y] = [i % WIDTH, Math.floor(i / WIDTH)]
        if (!areas.some(one => x >= one.x && x < one.x + one.width && y >= one.y && y < one.y + one.height))
          strays++
      }
      expect(strays, `pixels of frame ${k}`).toBe(0)
    }
    expect(drawn).toBeLessThan(0.6 * WIDTH * HEIGHT * (frames.length - 1))
  }, 60_000)
})

test('areas begin at even pixels and do not overlap', () => {
  const box = (x: number, y: number): Shape => ({
    kind: 'box',
    x,
    y,
    width: 9.5,
    height: 3.3,
    radius: 0,
    colour: '#000000',
    opacity: 1,
  })
  const areas = changedAreas(
    [box(11.2, 30), box(200, 31), box(24, 33)],
    [box(12.4, 30), box(201, 31), box(25, 33)],
    whole,
  )
  expect(areas).toHaveLength(2)
  for (const { x, y, width, height } of areas)
    expect([x % 2, y % 2, width % 2, height % 2]).toEqual([0, 0, 0, 0])
  expect(changedAreas([box(1, 1)], [box(1, 1)], whole)).toEqual([])
  expect(changedAreas([box(1, 1)], [box(1, 1), box(2, 2)], whole)).toEqual([whole])
})
