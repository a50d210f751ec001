import { type FrameTimes, frameCount, frameTimeS } from './frameTimes.ts'

/** Name of a picture of a sequence; numbers begin at 0, as frames do. */
export const pictureName = (stem: string, frame: number): string =>
  `${stem}-${String(frame).padStart(6, '0')}.png`

/** The time of each frame, one a line: what stands beside the pictures, and what `--frame-times` takes. */
export const frameTimesText = (times: FrameTimes): string =>
  `# seconds from the start of the clip\n${Array.from({ length: frameCount(times) }, (_, k) => `${frameTimeS(times, k).toFixed(6)}\n`).join('')}`
