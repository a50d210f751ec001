import {
  COURSE_PRIORS,
  coursePriors,
  DROP_PRIORS,
  dropPriors,
  ELEMENT_PRIORS,
  elementPriors,
  type Prior,
  ZERO_PRIORS,
  zeroPriors,
} from '../../../../src/core/reading/priors.ts'
import { readRecording } from '../../../../src/core/reading/readRecording.ts'
import { allKinds, judged, madePulls } from '../harness/families.ts'
import { descend, foldsOf, type Search } from './coordinate.ts'
import { lossOf } from './loss.ts'
import { labelledRecords, realLoss } from './realRecords.ts'

/** A record with what its reading costs. `group` is held out whole: its family, or where it comes from. */
interface Sample {
  readonly group: string
  readonly loss: () => number
}

interface Named {
  readonly prior: Prior
  readonly values: Record<string, number>
}

/** Every prior by `group.name`, with the values that the stages read. */
const PRIORS: ReadonlyMap<string, Named> = new Map(
  (
    [
      ['zero', ZERO_PRIORS, zeroPriors],
      ['drop', DROP_PRIORS, dropPriors],
      ['element', ELEMENT_PRIORS, elementPriors],
      ['course', COURSE_PRIORS, coursePriors],
    ] as const
  ).flatMap(([group, priors, values]) =>
    Object.entries<Prior>(priors).map(([name, prior]): [string, Named] => [
      `${group}.${name}`,
      { prior, values: values as Record<string, number> },
    ]),
  ),
)

const bare = (name: string): string => name.slice(name.indexOf('.') + 1)
const get = (name: string): number => PRIORS.get(name)!.values[bare(name)]!
const set = (name: string, value: number): void => {
  PRIORS.get(name)!.values[bare(name)] = value
}
const isFitted = (name: string): boolean => PRIORS.get(name)!.prior.from.startsWith('fitted')
const isShare = (name: string): boolean => /^(share|probability)/.test(PRIORS.get(name)!.prior.unit)

const meanLoss = (samples: readonly Sample[]): number =>
  samples.reduce((sum, s) => sum + s.loss(), 0) / Math.max(1, samples.length)

/**
 * Options are words: `--seeds N` of each kind, `--folds N`, `--passes N`, `--only name,name`, `--look` (tell what each
 * prior decides and fit nothing), `--real FOLDER` (a folder with labels.json).
 */
export function fitPriors(words: readonly string[]): void {
  const after = (name: string): string | undefined => {
    const at = words.indexOf(name)
    return at < 0 ? undefined : words[at + 1]
  }
  const count = (name: string, usual: number): number => Number(after(name) ?? usual)
  const only = after('--only')?.split(',')
  const unknown = only?.filter(name => !PRIORS.has(name)) ?? []
  if (unknown.length > 0) {
    console.error(`no such prior: ${unknown.join(', ')}. There are: ${[...PRIORS.keys()].join(', ')}`)
    process.exitCode = 2
    return
  }
  const made = madeSamples(count('--seeds', 2))
  const real = realSamples(after('--real'))
  if (words.includes('--look')) {
    lookAtEach(only ?? [...PRIORS.keys()], [...made, ...real])
    return
  }
  const search = {
    ...{ get, set, factor: 1.5, worthIt: 0.001, passes: count('--passes', 1) },
    names: only ?? [...PRIORS.keys()].filter(isFitted),
    most: (name: string) => (isShare(name) ? 1 : Number.POSITIVE_INFINITY),
  }
  crossValidate('made, by family', made, real, count('--folds', 4), search)
  if (real.length > 0) crossValidate('real, by origin', real, made, count('--folds', 4), search)
  propose([...made, ...real], search)
}

function madeSamples(seeds: number): Sample[] {
  return [...madePulls({ kinds: allKinds, firstSeed: 2001, seeds })].map(pull => ({
    group: pull.truth.family,
    loss: () => lossOf(judged(pull)),
  }))
}

function realSamples(folder: string | undefined): Sample[] {
  if (folder === undefined) return []
  const { records, unopened } = labelledRecords(folder)
  if (unopened.length > 0) console.log(`not opened: ${unopened.join(', ')}`)
  return records.map(one => ({
    group: one.label.repo,
    loss: () => realLoss(readRecording(one.recording), one),
  }))
}

type Steps = Omit<Search, 'loss'>

/** Fits without a part of the groups, and tells the loss on that part before and after. `beside` is in every fit. */
function crossValidate(
  title: string,
  samples: readonly Sample[],
  beside: readonly Sample[],
  folds: number,
  search: Steps,
): void {
  const standing = search.names.map(get)
  const restore = () => {
    for (const [i, name] of search.names.entries()) set(name, standing[i]!)
  }
  console.log(
    `\n${title}: mean loss on what was held out\n${'fold'.padEnd(6)}${'now'.padStart(9)}${'fitted'.padStart(9)}`,
  )
  const sums = { now: 0, fitted: 0, n: 0 }
  foldsOf(
    samples.map(s => s.group),
    folds,
  ).forEach((heldOut, k) => {
    const out = samples.filter(s => heldOut.includes(s.group))
    const inside = [...samples.filter(s => !heldOut.includes(s.group)), ...beside]
    const now = meanLoss(out)
    descend({ ...search, loss: () => meanLoss(inside) })
    const fitted = meanLoss(out)
    restore()
    console.log(`${String(k + 1).padEnd(6)}${now.toFixed(4).padStart(9)}${fitted.toFixed(4).padStart(9)}`)
    sums.now += now * out.length
    sums.fitted += fitted * out.length
    sums.n += out.length
  })
  const mean = (sum: number): string => (sum / Math.max(1, sums.n)).toFixed(4).padStart(9)
  console.log(`${'all'.padEnd(6)}${mean(sums.now)}${mean(sums.fitted)}`)
}

/** The values that a fit on everything comes to; to be written into priors.ts by hand where the folds bear it out. */
function propose(samples: readonly Sample[], search: Steps): void {
  const steps = descend({ ...search, loss: () => meanLoss(samples) })
  console.log(`\nfitted on all ${samples.length} records: ${steps.length} steps`)
  for (const { name, from, to, before, after } of steps)
    console.log(
      `${name.padEnd(24)}${from.toPrecision(3).padStart(10)} → ${to.toPrecision(3).padEnd(10)} loss ${before.toFixed(4)} → ${after.toFixed(4)}`,
    )
}

/** What each prior decides: the change of the loss when it is a fourth of itself and four times itself. */
function lookAtEach(names: readonly string[], samples: readonly Sample[]): void {
  const now = samples.map(s => s.loss())
  const mean = now.reduce((a, b) => a + b, 0) / samples.length
  console.log(`${samples.length} records, mean loss ${mean.toFixed(4)}\n`)
  console.log(
    `${'prior'.padEnd(24)}${'value'.padStart(9)}  ${'÷4'.padStart(8)}${'×4'.padStart(9)}  records that change`,
  )
  for (const name of names) {
    const value = get(name)
    const changed = new Set<number>()
    const [less, more] = [0.25, 4].map(times => {
      if (isShare(name) && value * times >= 1) return null
      set(name, value * times)
      const losses = samples.map(s => s.loss())
      losses.forEach((loss, i) => {
        if (loss !== now[i]) changed.add(i)
      })
      return losses.reduce((a, b) => a + b, 0) / samples.length - mean
    })
    set(name, value)
    const shown = (d: number | null | undefined): string => (d == null ? '–' : d.toFixed(4))
    const told = changed.size === 0 ? 'none: inert here' : String(changed.size)
    console.log(
      `${name.padEnd(24)}${value.toPrecision(3).padStart(9)}  ${shown(less).padStart(8)}${shown(more).padStart(9)}  ${told}`,
    )
  }
}
