import { chmodSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { steadyFrames } from '../../../src/publish/clip/frameTimes.ts'
import { clipOf } from '../../../src/publish/clip/job.ts'
import { renderByFfmpeg } from '../../../src/publish/node/clipFfmpeg.ts'
import { demoTake } from '../clip/demoTakes.ts'

let folder = ''
const at = (name: string): string => join(folder, name)
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-ffmpeg-'))
  // One takes nothing, and one takes all and never ends.
  for (const [name, does] of [
    ['deaf', 'exec sleep 600'],
    ['endless', 'cat > /dev/null; exec sleep 600'],
  ] as const) {
    writeFileSync(at(name), `#!/bin/sh\n${does}\n`)
    chmodSync(at(name), 0o755)
  }
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const clip = clipOf({
  kind: 'overlay',
  takes: [demoTake('hot-melt-1', 0)],
  times: steadyFrames({ num: 10, den: 1 }, 0.5),
  ground: 'plate',
  width: 640,
  height: 360,
  dark: true,
})

test.each(['deaf', 'endless'])('a program that hangs, %s, is told and leaves nothing', async name => {
  const made = await renderByFfmpeg(clip, {
    path: at('clip.mov'),
    codec: 'prores',
    program: at(name),
    silentMs: 300,
  })
  expect(made).toMatchObject({ ok: false, problems: [{ what: expect.stringContaining('did not end') }] })
  expect(readdirSync(folder).sort()).toEqual(['deaf', 'endless'])
})

test('it can be stopped while the program takes nothing', async () => {
  const stop = new AbortController()
  const making = renderByFfmpeg(clip, {
    path: at('clip.mov'),
    codec: 'prores',
    program: at('deaf'),
    signal: stop.signal,
  })
  setTimeout(() => stop.abort(), 100)
  expect(await making).toMatchObject({
    ok: false,
    problems: [{ what: 'it was stopped before it was whole.' }],
  })
  expect(readdirSync(folder).sort()).toEqual(['deaf', 'endless'])
})
