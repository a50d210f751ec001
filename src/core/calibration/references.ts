import { fine, type Outcome, type Problem, wrong } from '../problem.ts'
import { COIN_GRAMS, COIN_SHARE } from './coins.ts'
import type { Reference } from './referencesDocument.ts'
import { TAP_WATER_HALF_WIDTH_KGM3, waterDensityKgM3 } from './water.ts'
import { permissibleErrorKg } from './weightTolerance.ts'

/** A reference as a mass between limits. */
export interface Mass {
  readonly name: string
  readonly kg: number
  /** Standard uncertainty, from limits taken as rectangular; `null` where nothing is known. */
  readonly standardKg: number | null
  readonly densityKgM3: number | null
  /** For people: how mass and doubt come about. */
  readonly text: string
}

const flat = (halfWidth: number): number => halfWidth / Math.sqrt(3)

/** The mass that a reference stands for (GUM, rectangular limits added in quadrature). */
export function massOf(name: string, reference: Reference): Outcome<Mass> {
  switch (reference.kind) {
    case 'weight':
      return weight(name, reference)
    case 'weighed':
      return fine({
        name,
        kg: reference.kg,
        standardKg: flat(reference.scaleErrorKg),
        densityKgM3: reference.densityKgM3 ?? null,
        text: `${reference.kg} kg, weighed within ±${reference.scaleErrorKg} kg`,
      })
    case 'water':
      return fine(water(name, reference))
    case 'coins':
      return coins(name, reference)
  }
}

function weight(name: string, given: Extract<Reference, { kind: 'weight' }>): Outcome<Mass> {
  const byClass = given.class === undefined ? null : permissibleErrorKg(given.kg, given.class)
  if (given.class !== undefined && byClass === null)
    return wrong({
      where: `reference “${name}”`,
      what: `class ${given.class} has no single weight of ${given.kg} kg.`,
      cure: 'Name each weight of the stack by itself (1, 2, 5, 10 …), or give toleranceKg instead of a class.',
    })
  const limit = given.toleranceKg ?? byClass
  return fine({
    name,
    kg: given.kg,
    standardKg: limit === null || limit === undefined ? null : flat(limit),
    densityKgM3: given.densityKgM3 ?? null,
    text: `${given.kg} kg${given.class ? `, class ${given.class} of OIML R 111` : ''}${limit ? `, ±${plain(limit * 1000)} g` : ', no limits given'}`,
  })
}

function water(name: string, given: Extract<Reference, { kind: 'water' }>): Mass {
  const { litres, litresLimit, temperatureC, temperatureLimitC } = given
  const density = waterDensityKgM3(temperatureC)
  const at = (t: number) => waterDensityKgM3(Math.max(0, Math.min(40, t)))
  const byTemperature =
    Math.abs(at(temperatureC + temperatureLimitC) - at(temperatureC - temperatureLimitC)) / 2
  const m3 = litres / 1000
  return {
    name,
    kg: density * m3,
    standardKg: Math.hypot(
      flat((density * litresLimit) / 1000),
      flat(byTemperature * m3),
      flat(TAP_WATER_HALF_WIDTH_KGM3 * m3),
    ),
    densityKgM3: density,
    text: `${litres} l (±${litresLimit} l) of water at ${temperatureC} °C, ${density.toFixed(2)} kg/m³`,
  }
}

function coins(name: string, given: Extract<Reference, { kind: 'coins' }>): Outcome<Mass> {
  const listed = given.coin === undefined ? undefined : COIN_GRAMS[given.coin]
  const eachG = given.eachG ?? listed
  if (eachG === undefined) {
    const problem: Problem = {
      where: `reference “${name}”`,
      what: 'neither the coin nor its mass is given.',
      cure: `Give eachG, the mass that the mint publishes, or coin, one of: ${Object.keys(COIN_GRAMS).join(', ')}.`,
    }
    return wrong(problem)
  }
  const limitG = given.eachLimitG ?? COIN_SHARE * eachG
  return fine({
    name,
    kg: (given.count * eachG) / 1000,
    standardKg: flat((given.count * limitG) / 1000),
    densityKgM3: null,
    text: `${given.count} new coins of ${eachG} g (each ±${plain(limitG)} g, all the same way)`,
  })
}

const plain = (value: number): string => String(Number(value.toPrecision(3)))

/** Names in a stack, `jug + plate 2`, against the masses known. Every name not known is a problem. */
export function stackOf(text: string, masses: ReadonlyMap<string, Mass>, where: string): Outcome<Mass[]> {
  const names = text.split('+').map(name => name.trim())
  const found: Mass[] = []
  const problems: Problem[] = []
  for (const name of names) {
    const mass = masses.get(name)
    if (mass === undefined)
      problems.push({
        where,
        what: `no reference is called “${name.slice(0, 40)}”.`,
        cure: `The references are: ${[...masses.keys()].join(', ') || 'none'}. Name those that hang, joined by +.`,
      })
    else if (found.includes(mass))
      problems.push({
        where,
        what: `“${name}” hangs twice in one stack.`,
        cure: 'Give a second piece a name of its own.',
      })
    else found.push(mass)
  }
  return problems.length > 0 ? wrong(...problems) : fine(found)
}

/** What may serve at home, in words. */
export const REFERENCE_GUIDE: readonly { readonly what: string; readonly doubt: string }[] = [
  {
    what: 'Bought weights with a class (OIML R 111: F1, F2, M1, M2, M3)',
    doubt: '1 kg of M1 is good to ±50 mg, of M3 to ±500 mg: better than any home rig needs.',
  },
  {
    what: 'Water by volume, at a temperature that you measure',
    doubt:
      'The mark decides: ±5 ml in 1 l is ±0.5 %. Temperature within ±2 °C and salts add less than ±0.1 %.',
  },
  {
    what: 'A thing weighed on a kitchen, post or shop scale',
    doubt:
      'As good as that scale: its stated error, or one step where none is stated. A shop scale is checked by law.',
  },
  {
    what: 'New coins of one kind, by the published mass',
    doubt:
      'Taken as ±2 % each and all the same way (common practice, no source); 40 coins of 7.5 g make 300 g.',
  },
  {
    what: 'Gym plates and other cast weights',
    doubt: 'Often ±2 % to ±5 % (common practice, no source): weigh them first.',
  },
]
