import type { Alarm, CaptureState, LiveEvent, LiveFigures, LiveMessage } from '../../capture/index.ts'
import { plainNumber, printable } from '../../core/index.ts'
import type { Io } from '../io.ts'
import { pen, type Stroke } from '../terminal.ts'
import { bigDigits } from './bigDigits.ts'
import { eventWords, figuresLine, inUnit, liveDecimals, type ShownUnit, stateWords } from './words.ts'

const DRAW_MS = 100
const LINE_MS = 2_000

export interface Readout {
  take(message: LiveMessage): void
  /** Leaves the screen tidy. */
  end(): void
}

export interface ReadoutOptions {
  readonly io: Pick<Io, 'err' | 'errIsTerminal' | 'columns' | 'env' | 'outIsTerminal'>
  readonly keys: string
  /** `null`: that of the line. */
  readonly unit: ShownUnit | null
}

/** The live figures on standard error: big digits that renew themselves on a terminal, plain lines elsewhere. */
export const readout = (options: ReadoutOptions): Readout =>
  options.io.errIsTerminal ? bigReadout(options) : plainReadout(options)

const unitOf = (figures: LiveFigures | null, { unit }: ReadoutOptions): ShownUnit => {
  if (unit !== null) return unit
  if (figures?.unit === 'counts') return figures.forceIn
  return figures?.unit ?? 'N'
}

const alarmWords = ({ what, cure }: Alarm): string => `${printable(what, 200)} ${printable(cure, 200)}`

type Line = readonly [stroke: Stroke | null, text: string]

function bigReadout(options: ReadoutOptions): Readout {
  const { io } = options
  const draw = pen({ env: io.env, outIsTerminal: io.errIsTerminal })
  let figures: LiveFigures | null = null
  let state: CaptureState | null = null
  let event: LiveEvent | null = null
  let note = ''
  const alarms = new Map<string, Alarm>()
  let drawnMs = Number.NEGATIVE_INFINITY
  let rows = 0

  const lines = (): Line[] => {
    const unit = unitOf(figures, options)
    const decimals = liveDecimals(Math.max(figures?.peakN ?? 0, Math.abs(figures?.forceN ?? 0)), unit)
    const forceN = figures?.forceN ?? null
    const digits = bigDigits(forceN === null ? '−−−' : plainNumber(inUnit(forceN, unit), decimals))
    digits[digits.length - 1] += `  ${unit}`
    return [
      ['accent', state ? stateWords(state) : 'waiting'],
      [null, ''],
      ...digits.map((row): Line => ['strong', row]),
      [null, ''],
      [null, figures ? figuresLine(figures, unit, decimals) : 'no sample yet'],
      [null, event ? eventWords(event, unit) : ''],
      ...[...alarms.values()].map((alarm): Line => ['warning', `! ${alarmWords(alarm)}`]),
      [null, note],
      ['pencil', options.keys],
    ]
  }
  const show = (): void => {
    const width = Math.max(20, io.columns - 1)
    const shown = lines().map(([stroke, text]) => {
      const cut = Array.from(text).slice(0, width).join('')
      return stroke === null ? cut : draw(stroke, cut)
    })
    const up = rows > 0 ? `\u001b[${rows}A` : ''
    io.err(`${up}${shown.map(line => `\u001b[2K${line}\n`).join('')}\u001b[J`)
    rows = shown.length
    drawnMs = performance.now()
  }
  return {
    take(message) {
      if (message.kind === 'figures') figures = message.figures
      else if (message.kind === 'state') state = message.state
      else if (message.kind === 'event') event = message.event.kind === 'none' ? null : message.event
      else if (message.kind === 'note') note = printable(message.text, 100)
      else if (message.kind === 'alarm') {
        if (message.alarm.over) alarms.delete(message.alarm.code)
        else alarms.set(message.alarm.code, message.alarm)
      } else return
      const atOnce = message.kind === 'state' || message.kind === 'alarm'
      if (atOnce || performance.now() - drawnMs >= DRAW_MS) show()
    },
    end() {
      if (rows > 0) show()
    },
  }
}

function plainReadout(options: ReadoutOptions): Readout {
  const { io } = options
  let figures: LiveFigures | null = null
  let toldMs = Number.NEGATIVE_INFINITY
  const line = (text: string): void => io.err(`${text}\n`)
  return {
    take(message) {
      switch (message.kind) {
        case 'figures': {
          figures = message.figures
          if (performance.now() - toldMs < LINE_MS || figures.forceN === null) return
          toldMs = performance.now()
          const unit = unitOf(figures, options)
          const decimals = liveDecimals(Math.max(figures.peakN ?? 0, Math.abs(figures.forceN)), unit)
          line(
            `force ${plainNumber(inUnit(figures.forceN, unit), decimals)} ${unit}   ${figuresLine(figures, unit, decimals)}`,
          )
          return
        }
        case 'state':
          line(stateWords(message.state))
          return
        case 'event':
          if (message.event.settled && message.event.kind !== 'none')
            line(eventWords(message.event, unitOf(figures, options)))
          return
        case 'alarm':
          line(
            message.alarm.over
              ? `over: ${printable(message.alarm.what, 200)}`
              : `! ${alarmWords(message.alarm)}`,
          )
          return
        case 'note':
          line(`note: ${printable(message.text, 200)}`)
      }
    },
    end() {},
  }
}
