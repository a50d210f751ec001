import { printable } from '../../core/printable.ts'
import type { Cue } from './cues.ts'

const MOST_LETTERS = 200

/**
 * WebVTT (W3C, WebVTT: The Web Video Text Tracks Format). Text is escaped, so that a name from a log can be no tag and
 * no cue of its own. `note` is a comment at the head, for whoever opens the file.
 */
export function writeVtt(cues: readonly Cue[], note = ''): string {
  const head = note === '' ? 'WEBVTT' : `WEBVTT\n\nNOTE\n${vttLine(note)}`
  const blocks = cues.map(({ fromMs, toMs, lines, breakOf }) =>
    [
      ...(breakOf === null ? [] : [`break ${breakOf}`]),
      `${stamp(fromMs, '.')} --> ${stamp(toMs, '.')}`,
      ...lines.map(vttLine),
    ].join('\n'),
  )
  return `${[head, ...blocks].join('\n\n')}\n`
}

/** SubRip, as players read it: numbered, a decimal comma, CRLF. It has no escapes: what may be taken for a tag is put in other signs. */
export function writeSrt(cues: readonly Cue[]): string {
  return cues
    .map(
      ({ fromMs, toMs, lines }, i) =>
        `${[i + 1, `${stamp(fromMs, ',')} --> ${stamp(toMs, ',')}`, ...lines.map(srtLine)].join('\r\n')}\r\n`,
    )
    .join('\r\n')
}

const VTT_ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;' }
const SRT_SIGNS: Readonly<Record<string, string>> = { '<': '‹', '>': '›', '{': '(', '}': ')', '\\': '/' }

/** One line that is never empty: an empty one would end the cue. */
const safeLine = (line: string): string => printable(line, MOST_LETTERS) || '–'

const vttLine = (line: string): string => safeLine(line).replace(/[&<>]/g, sign => VTT_ESCAPES[sign]!)

const srtLine = (line: string): string => safeLine(line).replace(/[<>{}\\]/g, sign => SRT_SIGNS[sign]!)

/** `01:02:03.004`. */
function stamp(ms: number, mark: '.' | ','): string {
  const two = (n: number): string => String(Math.floor(n)).padStart(2, '0')
  const rest = String(ms % 1000).padStart(3, '0')
  return `${two(ms / 3_600_000)}:${two((ms / 60_000) % 60)}:${two((ms / 1000) % 60)}${mark}${rest}`
}
