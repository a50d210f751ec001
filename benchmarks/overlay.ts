import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { demoStudy } from '../src/capture/pretend/index.ts'
import { writeCsv } from '../src/logs/index.ts'

/**
 * An overlay of 60 s at 1920 × 1080 and 30 frames a second, against real time: WebM by the browser and by ffmpeg.
 * Times the built command from start to end. Run: `npm run bench overlay`; BENCH_SECONDS makes it shorter, BENCH_WAYS
 * (browser, ffmpeg, pictures, mov) chooses.
 */
const seconds = Number(process.env.BENCH_SECONDS ?? 60)
const ways = (process.env.BENCH_WAYS ?? 'browser,ffmpeg').split(',')
const cli = process.env.TENTERHOOK_CLI ?? fileURLToPath(new URL('../bin/tenterhook.js', import.meta.url))
const folder = mkdtempSync(join(tmpdir(), 'tenterhook-overlay-'))
const WAYS: Readonly<Record<string, readonly string[]>> = {
  browser: ['--out', join(folder, 'browser.webm'), '--encoder', 'browser'],
  ffmpeg: ['--out', join(folder, 'ffmpeg.webm'), '--encoder', 'ffmpeg'],
  mov: ['--out', join(folder, 'prores.mov')],
  pictures: ['--out', join(folder, 'pictures')],
}
try {
  const specimen = demoStudy(20_260_501).find(one => one.specimen === 'wheat-paste-2')!
  const log = join(folder, 'paste.csv')
  writeFileSync(log, [...writeCsv(specimen.logs[0]!.recording, { unit: 'kgf' })].join(''))
  for (const way of ways) {
    const words = ['overlay', log, ...(WAYS[way] ?? []), '--offset', '4', '--length', `${seconds}`, '--json']
    const begunMs = performance.now()
    const ran = spawnSync(process.execPath, [cli, ...words], { encoding: 'utf8' })
    const tookS = (performance.now() - begunMs) / 1000
    if (ran.status !== 0) throw new Error(`${way}: ${ran.stderr}`)
    const { frames, path } = JSON.parse(ran.stdout) as { frames: number; path: string }
    const megabytes = way === 'pictures' ? '' : `, ${(statSync(path).size / 1e6).toFixed(1)} MB`
    console.log(
      `${way.padEnd(9)}${frames} frames in ${tookS.toFixed(1)} s: ${(seconds / tookS).toFixed(2)} times real time${megabytes}`,
    )
  }
} finally {
  rmSync(folder, { recursive: true, force: true })
}
