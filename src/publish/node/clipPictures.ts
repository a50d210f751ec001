import { rename, rm, stat, writeFile } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { fileProblem } from '../../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Clip } from '../clip/clip.ts'
import { frameCount } from '../clip/frameTimes.ts'
import { frameTimesText, pictureName } from '../clip/pictures.ts'
import { type ClipRun, stopped } from './clipBrowser.ts'
import { pngFrames } from './clipFrames.ts'
import { makeHalfFolder } from './halfFile.ts'

/**
 * A clip as a folder of PNG pictures with alpha, one a frame, and the time of each in `times.txt`. Needs no
 * browser and no other program. The folder gets its name when all are there.
 */
export async function renderPictures(
  clip: Clip,
  { path, onFrame, signal }: ClipRun,
): Promise<Outcome<string>> {
  if ((await stat(path).catch(() => null)) !== null) {
    return wrong({
      where: path,
      what: 'there is a file or folder of this name already.',
      cure: 'Choose another name, or take it away first.',
    })
  }
  const half = await makeHalfFolder(path)
  if (!half.ok) return half
  const all = frameCount(clip.times)
  try {
    let k = 0
    for await (const png of pngFrames(clip)) {
      if (signal?.aborted) return wrong(stopped(path))
      await writeFile(join(half.value, pictureName(basename(path), k)), png)
      k++
      onFrame?.(k, all)
    }
    await writeFile(join(half.value, 'times.txt'), frameTimesText(clip.times))
    await rename(half.value, path)
    return fine(path)
  } catch (error) {
    return wrong(fileProblem(path, error, 'writing'))
  } finally {
    await rm(half.value, { recursive: true, force: true })
  }
}
