/** Ticks a second of the times of handed over frames: that of most video containers. */
export const TIMED_HZ = 90_000

const HEAD_BYTES = 32
const FRAME_HEAD_BYTES = 12
/** ffmpeg's own name of raw pictures in four planes, of which two are halved (yuva420p): “Y4”, 11, 8. */
const YUVA420 = [0x59, 0x34, 11, 8]

/**
 * The head of a stream of raw pictures that each say when they are shown, which ffmpeg reads as `-f ivf -c:v
 * rawvideo`. Layout of IVF from its description in the AV1 and VP8 tools: signature, version, length of the
 * head, name of the codec, width, height, ticks a second, number of frames.
 */
export function timedHead(width: number, height: number, frames: number): Buffer {
  const head = Buffer.alloc(HEAD_BYTES)
  head.write('DKIF', 'latin1')
  head.writeUInt16LE(HEAD_BYTES, 6)
  head.set(YUVA420, 8)
  head.writeUInt16LE(width, 12)
  head.writeUInt16LE(height, 14)
  head.writeUInt32LE(TIMED_HZ, 16)
  head.writeUInt32LE(1, 20)
  head.writeUInt32LE(frames, 24)
  return head
}

/** What stands before each picture: its length, and its time in ticks. */
export function timedFrameHead(bytes: number, timeS: number): Buffer {
  const head = Buffer.alloc(FRAME_HEAD_BYTES)
  head.writeUInt32LE(bytes, 0)
  head.writeBigUInt64LE(BigInt(Math.round(timeS * TIMED_HZ)), 4)
  return head
}
