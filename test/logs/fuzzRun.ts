import type { LogForceUnit } from '../../src/core/units/force.ts'
import { readLog } from '../../src/logs/index.ts'
import { mutated, randomOf } from './mutate.ts'
import { shapes } from './shapes.ts'
import { utf8 } from './support.ts'

/** Texts that name a unit, each with its unit's word as written. */
const WORD: Readonly<Record<LogForceUnit, RegExp>> = {
  N: /(?<!\p{L})(?:N|Н|Ｎ)(?!\p{L})/gu,
  kN: /kN/g,
  mN: /mN/g,
  kgf: /kgf?/g,
  gf: /(?<!\p{L})g(?!\p{L})/gu,
  tf: /tf/g,
  lbf: /lbf?/g,
  ozf: /ozf?/g,
  kip: /kip/g,
  counts: /raw/g,
}

const bases = shapes
  .filter(({ log, options }) => typeof log === 'string' && options?.unit === undefined)
  .map(({ log, options = {}, unit = 'N', assumed = [] }) => ({
    text: String(log),
    options,
    unit,
    named: unit !== null && !assumed.includes('unit-assumed'),
  }))

/** Reads `count` damaged logs and gives what was wrong with the way that any of them was read. */
export function fuzz(count: number, seed: number): { faults: string[]; opened: number; slowestMs: number } {
  const random = randomOf(seed)
  const faults: string[] = []
  let opened = 0
  let slowestMs = 0
  for (let i = 0; i < count && faults.length < 10; i++) {
    const base = bases[i % bases.length]!
    const text = mutated(base.text, WORD[base.unit ?? 'N'], random)
    // Time of the processor, so that a busy machine is not taken for a hang.
    const began = process.cpuUsage()
    const fault = faultOf(text, base)
    const { user, system } = process.cpuUsage(began)
    slowestMs = Math.max(slowestMs, (user + system) / 1000)
    if (fault === 'opened') opened++
    else if (fault !== '') faults.push(`${fault}\n${JSON.stringify(text)}`)
  }
  return { faults, opened, slowestMs }
}

function faultOf(text: string, { options, unit, named }: (typeof bases)[number]): string {
  try {
    const read = readLog(utf8(text), 'log.csv', options)
    if (!read.ok) {
      const empty = read.problems.length === 0 || read.problems.some(p => p.what === '' || p.cure === '')
      return empty ? 'a problem that says nothing' : ''
    }
    const { timeS, forceN, forceUnit, segments } = read.value
    if (!forceN.every(Number.isFinite) || !timeS.every(Number.isFinite)) return 'a value that is not finite'
    if (forceN.length !== timeS.length || forceN.length < 10) return 'lengths'
    for (let i = 1; i < timeS.length; i++)
      if (!(timeS[i]! > timeS[i - 1]!)) return `time does not rise at ${i}`
    if (segments[0]?.from !== 0 || segments.at(-1)?.to !== timeS.length)
      return 'segments do not cover the samples'
    // A header that was damaged may tell no unit any more; large whole numbers are then taken for counts, and
    // that is said.
    const isCounts = forceUnit === 'counts' && read.value.assumptions.some(a => a.code === 'unit-assumed')
    return !named || forceUnit === null || isCounts || forceUnit === unit || bothOfRow(unit, forceUnit, text)
      ? 'opened'
      : `unit ${unit} became ${forceUnit}`
  } catch (error) {
    return `crash: ${error instanceof Error ? error.stack : String(error)}`
  }
}

/** In the log whose unit changes by row, either unit may come first after lines were lost. */
const bothOfRow = (unit: LogForceUnit | null, found: LogForceUnit | null, text: string): boolean =>
  unit === 'mN' && found === 'N' && /\d mN/.test(text) && /\d N/.test(text)
