import { spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import type { LiveMessage } from '../../capture/index.ts'
import type { Io } from '../io.ts'
import { inUnit, liveDecimals, type ShownUnit } from './words.ts'

const BELL = '\u0007'

interface Speaker {
  readonly command: string
  readonly words: (text: string) => readonly string[]
}

/** What each system brings to speak with, or usually has installed. */
const SPEAKERS: Readonly<Record<string, readonly Speaker[]>> = {
  darwin: [{ command: 'say', words: text => [text] }],
  win32: [
    {
      command: 'powershell.exe',
      words: text => [
        '-NoProfile',
        '-Command',
        `Add-Type -AssemblyName System.Speech; (New-Object System.Speech.Synthesis.SpeechSynthesizer).Speak('${text.replaceAll("'", "''")}')`,
      ],
    },
  ],
  linux: [
    { command: 'spd-say', words: text => [text] },
    { command: 'espeak-ng', words: text => [text] },
    { command: 'espeak', words: text => [text] },
  ],
}

/** The first speaker of this system that is on the path, or `null`. */
export function findSpeaker(env: Io['env'], platform: string = process.platform): Speaker | null {
  const folders = (env.PATH ?? env.Path ?? '').split(delimiter).filter(folder => folder !== '')
  const speakers = SPEAKERS[platform] ?? SPEAKERS.linux ?? []
  return speakers.find(({ command }) => folders.some(folder => existsSync(join(folder, command)))) ?? null
}

/** The commands that were looked for, for the message that none is there. */
export const speakersLookedFor = (platform: string = process.platform): string =>
  (SPEAKERS[platform] ?? SPEAKERS.linux ?? []).map(({ command }) => command).join(', ')

/** Beeps at a fall whose kind is known: once for a partial break or a slip, twice for a break; and when recording begins. */
export function beeper(io: Pick<Io, 'err'>): (message: LiveMessage) => void {
  return message => {
    if (message.kind === 'event' && message.event.settled) {
      if (message.event.kind === 'break') io.err(BELL + BELL)
      else if (message.event.kind === 'partial-break' || message.event.kind === 'slip') io.err(BELL)
    }
    if (message.kind === 'alarm' && !message.alarm.over && !message.alarm.renewed) io.err(BELL)
  }
}

/** Says what the operator, whose hands are on the rig, must know: state, breaks with the peak, alarms. Never waits for it. */
export function speech(speaker: Speaker, unitOf: () => ShownUnit): (message: LiveMessage) => void {
  let peakN: number | null = null
  const say = (text: string): void => {
    const child = spawn(speaker.command, speaker.words(text), { stdio: 'ignore', detached: false })
    child.on('error', () => {})
    child.unref()
  }
  return message => {
    if (message.kind === 'figures') peakN = message.figures.peakN
    if (
      message.kind === 'event' &&
      message.event.settled &&
      message.event.kind === 'break' &&
      peakN !== null
    ) {
      const unit = unitOf()
      say(`Break. Peak ${inUnit(peakN, unit).toFixed(Math.min(1, liveDecimals(peakN, unit)))} ${unit}`)
    } else if (message.kind === 'event' && message.event.settled && message.event.kind === 'partial-break') {
      say('Partial break')
    }
    if (message.kind === 'state' && message.state.phase === 'armed') say('Armed')
    if (message.kind === 'state' && message.state.phase === 'recording' && message.state.pulls === 0)
      say('Recording')
    if (message.kind === 'alarm' && !message.alarm.over && !message.alarm.renewed) say(message.alarm.what)
  }
}
