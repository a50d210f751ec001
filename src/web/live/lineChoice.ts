import { type LogForceUnit, parseForceUnit } from '../../core/units/force.ts'
import type { Line } from '../../server/apiTypes.ts'
import { webSerial } from './webSerial.ts'

/** The form in which a line is chosen, as typed. */
export interface LineChoice {
  readonly kind: 'serial' | 'page' | 'tcp' | 'pretend'
  readonly path: string
  readonly baud: string
  readonly host: string
  readonly port: string
  readonly pull: string
  readonly seed: string
  readonly rigId: string | null
  readonly capacityN: string
  /** `''`: as the line says. */
  readonly unit: string
}

export const USUAL_CHOICE: LineChoice = {
  kind: 'serial',
  path: '',
  baud: '',
  host: '',
  port: '3333',
  pull: 'saw-tooth',
  seed: '1',
  rigId: null,
  capacityN: '',
  unit: '',
}

/** Pulls that the pretend rig knows and a newcomer would want to see, in the order in which they are offered. */
export const PRETEND_PULLS = [
  'saw-tooth',
  'hot-melt',
  'wheat-paste',
  'stitching',
  'strokes',
  'brittle',
] as const

/** The kinds of line that there are here: a server’s are those of its computer; a port of the browser is not in every one. */
export const kindsOf = (
  host: 'server' | 'page',
  hasSerial: boolean = webSerial() !== null,
): readonly LineChoice['kind'][] => [
  ...(host === 'server' ? (['serial'] as const) : []),
  ...(hasSerial ? (['page'] as const) : []),
  ...(host === 'server' ? (['tcp'] as const) : []),
  'pretend',
]

export type LineFault = Exclude<keyof LineChoice, 'kind' | 'rigId'>

/** What a port of the page is called until it is open and tells who made it. */
const PAGE_NAME = 'not open yet'
const USUAL_BAUD = 115_200

/** The line that the form asks for; else the fields that cannot be so. */
export function lineOf(
  choice: LineChoice,
): { readonly line: Line } | { readonly faults: readonly LineFault[] } {
  const faults: LineFault[] = []
  const whole = (field: LineFault, from: number, to: number): number => {
    const text = choice[field].trim()
    const value = Number(text)
    if (text === '' || !Number.isInteger(value) || value < from || value > to) faults.push(field)
    return value
  }
  const words = (field: LineFault): string => {
    const text = choice[field].trim()
    if (text === '') faults.push(field)
    return text
  }
  const source = (): Line['source'] => {
    switch (choice.kind) {
      case 'serial': {
        const baud = choice.baud.trim() === '' ? undefined : whole('baud', 50, 4_000_000)
        return { kind: 'serial', path: words('path'), ...(baud !== undefined && { baud }) }
      }
      case 'page':
        return {
          kind: 'page',
          name: PAGE_NAME,
          baud: choice.baud.trim() === '' ? USUAL_BAUD : whole('baud', 50, 4_000_000),
        }
      case 'tcp':
        return { kind: 'tcp', host: words('host'), port: whole('port', 1, 65_535) }
      case 'pretend':
        return { kind: 'pretend', pull: words('pull'), seed: whole('seed', 0, Number.MAX_SAFE_INTEGER) }
    }
  }
  const asked = source()
  const capacityN = capacityOf(choice)
  if (choice.capacityN.trim() !== '' && capacityN === null) faults.push('capacityN')
  const unit = unitOf(choice.unit)
  if (choice.unit.trim() !== '' && unit === null) faults.push('unit')
  if (faults.length > 0) return { faults }
  return {
    line: { source: asked, capacityN, rigId: choice.rigId, ...(unit !== null && { log: { unit } }) },
  }
}

/** The cell's capacity as typed; `null`: not told, or no such number. */
export function capacityOf({ capacityN }: Pick<LineChoice, 'capacityN'>): number | null {
  const value = Number(capacityN.trim().replace(',', '.'))
  return value > 0 && Number.isFinite(value) ? value : null
}

const unitOf = (text: string): LogForceUnit | null => (text.trim() === '' ? null : parseForceUnit(text))

/** What was kept of an earlier choice, as far as it still makes sense. */
export function choiceFrom(kept: string | null): LineChoice {
  if (kept === null) return USUAL_CHOICE
  try {
    const given = JSON.parse(kept) as Partial<Record<keyof LineChoice, unknown>> | null
    const text = (key: LineFault): string => {
      const value = given?.[key]
      return typeof value === 'string' ? value : USUAL_CHOICE[key]
    }
    const kind = given?.kind
    return {
      kind: kind === 'page' || kind === 'tcp' || kind === 'pretend' ? kind : 'serial',
      path: text('path'),
      baud: text('baud'),
      host: text('host'),
      port: text('port'),
      pull: text('pull'),
      seed: text('seed'),
      rigId: typeof given?.rigId === 'string' ? given.rigId : null,
      capacityN: text('capacityN'),
      unit: text('unit'),
    }
  } catch {
    return USUAL_CHOICE
  }
}
