import { type Command, InvalidArgumentError } from 'commander'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import {
  type Gravity,
  gravityAt,
  halfLastDigit,
  STANDARD_GRAVITY_MS2,
  typedGravity,
  UNKNOWN_GRAVITY,
} from '../core/units/gravity.ts'

export interface GravityFlags {
  readonly gravity?: Gravity
  readonly latitude?: { readonly deg: number; readonly halfDeg: number }
  readonly height?: number
}

export const addGravityOptions = (command: Command): Command =>
  command
    .optionsGroup('The gravity that makes masses into forces:')
    .option('--gravity <m/s2>', 'local gravity, or “standard” for 9.80665 exactly', gravity)
    .option('--latitude <degrees>', 'latitude of the rig, south negative', latitude)
    .option('--height <m>', 'height above the sea', height)

/** Typed, by place, else what the rig says, else unknown. A height alone is a problem: it says little without a latitude. */
export function gravityOfFlags(flags: GravityFlags, ofRig: Gravity | null): Outcome<Gravity> {
  const { gravity, latitude, height } = flags
  if (gravity !== undefined && latitude !== undefined)
    return wrong({ where: '--gravity', what: 'a latitude was given as well.', cure: 'Give one of the two.' })
  if (gravity !== undefined) return fine(gravity)
  if (latitude !== undefined) return fine(gravityAt(latitude.deg, height ?? 0, latitude.halfDeg))
  if (height !== undefined)
    return wrong({
      where: '--height',
      what: 'a height alone does not give the gravity.',
      cure: 'Give --latitude with it.',
    })
  return fine(ofRig ?? UNKNOWN_GRAVITY)
}

function gravity(word: string): Gravity {
  if (word === 'standard') return typedGravity(STANDARD_GRAVITY_MS2, 0)
  const ms2 = Number(word.replace(',', '.'))
  if (!(ms2 > 9.7 && ms2 < 9.9))
    throw new InvalidArgumentError('It must be standard, or m/s² between 9.7 and 9.9 as on Earth.')
  return typedGravity(ms2, halfLastDigit(word))
}

function latitude(word: string): { deg: number; halfDeg: number } {
  const deg = Number(word.replace(',', '.'))
  if (word.trim() === '' || !(Math.abs(deg) <= 90))
    throw new InvalidArgumentError('It must be degrees from −90 to 90, with decimals.')
  return { deg, halfDeg: halfLastDigit(word) }
}

function height(word: string): number {
  const metres = Number(word.replace(',', '.'))
  if (word.trim() === '' || !(metres >= -500 && metres <= 9000))
    throw new InvalidArgumentError('It must be metres from −500 to 9000.')
  return metres
}
