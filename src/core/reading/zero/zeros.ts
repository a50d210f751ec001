import { greatestAt, reachOf } from '../../signal/scan.ts'
import { isHeld } from '../amendments.ts'
import type { Zero } from '../document.ts'
import { zeroPriors } from '../priors.ts'
import type { Quiet } from '../quiet.ts'
import {
  BRIEF_S,
  longest,
  lowBlocks,
  restGiven,
  stillParts,
  withBriefEnds,
  withoutPushes,
} from './candidates.ts'
import { carry, carryOverSegments } from './carry.ts'
import type { Epoch, ZeroInput, ZeroStage } from './epoch.ts'
import { asIndicated, onDrift, seen, steppedKnots } from './madeEpoch.ts'
import { loadingPace, moves, passesThrough } from './restEvidence.ts'
import { reachesOver, withFading, withoutSettling } from './settling.ts'
import { zeroChain } from './zeroChain.ts'

/** What is shorter is no witness by itself: half a second, less what time stamps jitter. */
const WITNESS_S = 0.48
/** A lone rest before loading counts as a zero when it lasts this long: a preload that is held would relax visibly. */
const LONE_REST_S = 2
/** The reading rose above a rest by this share of the range: what comes after is another rest. */
const LOADED_SHARE = 0.03

/** The zero of each epoch: the lowest level that the reading keeps, since any load only raises it. */
export function findZeros(input: ZeroInput): ZeroStage {
  const epochs: Epoch[] = []
  for (const segment of input.segments) {
    const inside = input.rezeros.filter(r => r.index > segment.from && r.index < segment.to)
    const bounds = [segment.from, ...inside.map(r => r.index), segment.to]
    const own = bounds.slice(1).map((to, k) => epochOf(bounds[k]!, to, input))
    epochs.push(...carry(own, inside, input))
  }
  carryOverSegments(epochs, input)
  return { epochs, zeros: epochs.flatMap(epoch => zerosOf(epoch, input)) }
}

function epochOf(from: number, to: number, input: ZeroInput): Epoch {
  const { timeS, forceN, signal, quiets, amendments } = input
  const { noiseN, quantumN } = signal
  const inside = quiets.filter(q => q.from >= from && q.to <= to)
  const given = amendments.zeros.flatMap(({ fromS, toS }) => restGiven(timeS, forceN, from, to, fromS, toS))
  const levelStandardN = (q: Quiet): number =>
    // Where it swings at rest, the greatest force may be read anywhere in the swing.
    Math.hypot(q.swingN ?? Math.max(q.noiseN, noiseN) / Math.sqrt(Math.min(q.to - q.from, 100)), quantumN / 8)
  if (given.length > 0) return seen(from, to, given, 0, Math.max(...given.map(levelStandardN)))
  const { low: lowN, high: highN } = reachOf(forceN, from, to)
  const rangeN = highN - lowN
  const paceNPerS = loadingPace(timeS, forceN, from, to, signal)
  const levels = longest(
    withBriefEnds(
      withoutPushes(
        inside
          .flatMap(q => stillParts(timeS, forceN, q, signal, 0.004 * rangeN))
          .filter(
            q => !moves(q, paceNPerS, quantumN) && !passesThrough(timeS, forceN, q, from, to, paceNPerS),
          ),
        highN,
        signal,
      ),
      from,
      to,
      input,
    ).filter(q => !isHeld(amendments, q)),
  )
  const firstN = forceN[from]!
  const peakS = timeS[greatestAt(forceN, from, to)]!
  const chain = zeroChain(
    {
      quiets: levels,
      blocks: lowBlocks(timeS, forceN, from, to, levels, signal.periodS),
      startS: timeS[from]!,
      endS: timeS[to - 1]!,
      first: from,
      last: to,
      firstN,
      rangeN,
      greatestN: highN,
      noiseN,
      quantumN,
      paceNPerS,
      priors: input.priors ?? zeroPriors,
    },
    peakS,
  )
  const { beliefs } = chain
  const rests = withoutSettling(withFading(levels, chain), forceN, LOADED_SHARE * rangeN)
  const first = rests[0]
  if (!first) return asIndicated(from, to, beliefs, input)
  // A rest that stands still says more than one that swings.
  const still = rests.filter(q => q.swingN === undefined && q.toS - q.fromS >= BRIEF_S)
  const standardN = Math.max(...(still.length > 0 ? still : rests).map(levelStandardN))
  const lastsS = rests.reduce((sum, q) => sum + q.toS - q.fromS + signal.periodS, 0)
  const nought = Math.max(4 * noiseN, 1.5 * quantumN, 0.001 * rangeN)
  const loadedAfter = (q: Quiet): boolean => reachOf(forceN, q.to, to).high > q.levelN + LOADED_SHARE * rangeN
  const onlyStart = rests.every(q => !reachesOver(forceN, from, q.from, q.levelN + LOADED_SHARE * rangeN))
  // A rest at the start that reads nought, and that nothing later confirms, may be a zero that was set under load.
  const lone = onlyStart && loadedAfter(rests.at(-1)!) && rests.every(q => Math.abs(q.levelN) <= nought)
  const believed = input.believeLone ?? lastsS >= LONE_REST_S
  if (lone && !believed) return { ...asIndicated(from, to, beliefs, input), lone: true }
  // What ends the record for less than half a second may be a hold of what is left, as well as a rest.
  const brief = lastsS < WITNESS_S
  const low = Math.min(...rests.map(q => q.levelN))
  const started = Math.max(
    4 * noiseN,
    2 * quantumN,
    0.003 * rangeN,
    1.5 * Math.abs(forceN[from + 1]! - firstN),
  )
  // A rest before any load, where the record begins: the indicator was zeroed with an empty cell, and has drifted since.
  const beginsAtRest = rests.some(
    q =>
      Math.abs(q.levelN - firstN) <= started &&
      !reachesOver(forceN, from, q.from, q.levelN + LOADED_SHARE * rangeN),
  )
  const preload = !beginsAtRest && Math.abs(firstN) <= started && low < -nought ? firstN - low : 0
  if (brief && low > -started) return asIndicated(from, to, beliefs, input)
  const drifts = rests.some(q => q !== first && onDrift(q, first, rangeN))
  const steps = steppedKnots(timeS, forceN, rests, rangeN, chain.marginN)
  const epoch = {
    ...seen(from, to, rests, preload, standardN, drifts),
    ...(steps ? { knots: steps, steps: true } : {}),
    lone,
    beliefs,
  }
  // Readings of the wrong sign that are left at the end count all the same: no load is below them.
  return brief ? { ...epoch, unseen: true } : epoch
}

function zerosOf(epoch: Epoch, { timeS }: ZeroInput): Zero[] {
  const whole = { fromS: timeS[epoch.from]!, toS: timeS[epoch.to - 1]! }
  if (epoch.basis === 'rest') {
    return epoch.rests.map(q => ({
      fromS: q.fromS,
      toS: q.toS,
      levelN: q.levelN,
      uncertaintyN: 2 * epoch.standardN,
      basis: 'rest',
    }))
  }
  const levelN = epoch.knots[0]?.levelN ?? 0
  return [{ ...whole, levelN, uncertaintyN: 2 * epoch.standardN, basis: epoch.basis }]
}
