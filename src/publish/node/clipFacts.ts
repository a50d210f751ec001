import { spawn } from 'node:child_process'
import { access } from 'node:fs/promises'
import { resolve } from 'node:path'
import { fileProblem } from '../../core/fileProblem.ts'
import { type Outcome, wrong } from '../../core/problem.ts'
import type { FilmFacts, Packets } from '../clip/filmFacts.ts'

/**
 * Size and frame times of a video file: MP4, MOV, WebM, Matroska are read here, what else there is by
 * ffprobe.
 */
export async function clipFacts(path: string): Promise<Outcome<FilmFacts>> {
  try {
    await access(path)
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
  const { factsOf } = await import('../clip/filmFacts.ts')
  const found = (await readHere(path).catch(() => null)) ?? (await readByProbe(path))
  if (found === null || found.spans.length === 0) {
    return wrong({
      where: path,
      what: 'no video track could be read in it.',
      cure: 'Install ffprobe (it comes with ffmpeg), or give --size, --fps and --length.',
    })
  }
  return factsOf(found, path)
}

async function readHere(path: string): Promise<Packets | null> {
  const { FilePathSource } = await import('mediabunny')
  const { packetsIn } = await import('../clip/filmFacts.ts')
  return packetsIn(new FilePathSource(path))
}

interface Probed {
  readonly streams?: readonly { readonly width?: number; readonly height?: number }[]
  readonly packets?: readonly { readonly pts_time?: string; readonly duration_time?: string }[]
}

async function readByProbe(path: string): Promise<Packets | null> {
  const child = spawn(
    'ffprobe',
    [
      ...['-v', 'error', '-protocol_whitelist', 'file', '-select_streams', 'v:0', '-of', 'json'],
      ...['-show_entries', 'stream=width,height:packet=pts_time,duration_time', `file:${resolve(path)}`],
    ],
    { stdio: ['ignore', 'pipe', 'ignore'], windowsHide: true },
  )
  let text = ''
  child.stdout.setEncoding('utf8').on('data', (piece: string) => {
    text += piece
  })
  const code = await new Promise<number | null>(done => {
    child.on('error', () => done(null))
    child.on('close', done)
  })
  if (code !== 0) return null
  const { streams, packets = [] } = JSON.parse(text) as Probed
  const { width, height } = streams?.[0] ?? {}
  if (width === undefined || height === undefined) return null
  const spans = packets.flatMap(({ pts_time, duration_time }) =>
    pts_time === undefined ? [] : [{ fromS: Number(pts_time), lengthS: Number(duration_time ?? 0) }],
  )
  return { width, height, spans }
}
