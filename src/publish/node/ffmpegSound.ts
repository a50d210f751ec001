import { spawn } from 'node:child_process'
import { resolve } from 'node:path'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'

export interface FfmpegSoundOptions {
  /** Gets the WAV in pieces. */
  readonly onBytes: (piece: Uint8Array) => void
  readonly signal?: AbortSignal
  /** The program, where it is not on the path. */
  readonly program?: string
}

const MOST_WORDS = 4_000

/**
 * Decodes the first sound track of a clip to WAV by ffmpeg, a separate program, and hands it on in pieces.
 * The track is laid on the clip's own presentation times: silence is put in where it starts later than the
 * clip or has holes, so that its first sample is time 0 whatever the container says.
 */
export async function decodeSound(
  path: string,
  { onBytes, signal, program = 'ffmpeg' }: FfmpegSoundOptions,
): Promise<Outcome<null>> {
  const child = spawn(
    program,
    [
      ...['-nostdin', '-hide_banner', '-v', 'error', '-protocol_whitelist', 'file'],
      // An absolute path never begins with a dash.
      ...['-i', `file:${resolve(path)}`, '-map', '0:a:0', '-vn', '-sn', '-dn'],
      ...['-af', 'aresample=async=1:first_pts=0', '-ar', '48000', '-c:a', 'pcm_s16le', '-f', 'wav', 'pipe:1'],
    ],
    { stdio: ['ignore', 'pipe', 'pipe'], windowsHide: true },
  )
  const stop = (): void => void child.kill('SIGKILL')
  signal?.addEventListener('abort', stop)
  if (signal?.aborted) stop()
  let words = ''
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    words = `${words}${text}`.slice(-MOST_WORDS)
  })
  child.stdout.on('data', onBytes)
  try {
    const end = await new Promise<{ code: number | null } | { error: unknown }>(done => {
      child.on('error', error => done({ error }))
      child.on('close', code => done({ code }))
    })
    if ('error' in end) return wrong(notThere(path, program))
    if (signal?.aborted)
      return wrong({
        where: path,
        what: 'reading its sound was stopped.',
        cure: 'Start again when you like.',
      })
    return end.code === 0 ? fine(null) : wrong(notDecoded(path, words))
  } finally {
    signal?.removeEventListener('abort', stop)
  }
}

const notThere = (path: string, program: string): Problem => ({
  where: path,
  what: `this is no WAV file, and ${program}, which reads others, is not installed.`,
  cure: 'Install ffmpeg, or export the sound of the clip as WAV.',
})

function notDecoded(path: string, words: string): Problem {
  if (/matches no streams|does not contain any stream/.test(words))
    return { where: path, what: 'the clip has no sound.', cure: 'Place it by hand with --offset.' }
  const last = words.trim().split('\n').at(-1) ?? ''
  return {
    where: path,
    what: `ffmpeg cannot read it${last === '' ? '' : ` (${last})`}.`,
    cure: 'Check that it is a clip with sound, or export the sound as WAV.',
  }
}
