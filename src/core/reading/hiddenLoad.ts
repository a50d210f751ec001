import { hiddenLoadEvidence } from './elements.ts'
import type { Drop } from './measureDrop.ts'
import type { ZeroStage } from './zero/epoch.ts'

/** A load that the zero hides, as the drops of a bundle of elements tell it, with its 95 % interval. */
export interface HiddenLoad {
  readonly valueN: number
  readonly lowN: number
  readonly highN: number
}

/** What the drops are explained by, but for the load that is asked for. */
type BundleOptions = Parameters<typeof hiddenLoadEvidence>[1]

interface Judged {
  readonly zero: ZeroStage
  readonly drops: readonly Drop[]
}

/** Hidden loads that are tried, over the greatest force. */
const HIDDEN_SHARES = Array.from({ length: 17 }, (_, k) => k / 16)

/**
 * What the drops say of a lone rest: whether the specimen was slack in it; `null` where they do not tell against what
 * its length and its level say.
 */
export function judgeLoneRest(
  believed: Judged,
  doubted: Judged,
  told: BundleOptions,
): 'seen' | 'unseen' | null {
  const level = ({ zero }: Judged): number => zero.epochs.find(e => e.lone)?.knots[0]?.levelN ?? 0
  const offsetN = level(believed) - level(doubted)
  const greatestN = Math.max(0, ...doubted.drops.map(d => d.beforeN))
  // Loads hidden below the lone rest, which lies `offsetN` above the zero that the doubting counts from.
  const loadsN = HIDDEN_SHARES.slice(1).map(share => Math.max(0, 0.8 * share * greatestN - offsetN))
  const slack = hiddenLoadEvidence(believed.drops, told, [0])
  const loaded = hiddenLoadEvidence(doubted.drops, told, loadsN)
  if (!slack || !loaded) return null
  // Even odds beforehand; the loads share theirs.
  const some = loaded.reduce((sum, e) => sum + e, 0) / loaded.length
  if (slack[0]! > DECIDED * some) return 'seen'
  return some > DECIDED * slack[0]! ? 'unseen' : null
}

/** Odds from which on the drops are believed. */
const DECIDED = 20

/** The load hidden below a zero that was not seen; `null` where the drops do not tell. */
export function hiddenLoad(drops: readonly Drop[], told: BundleOptions): HiddenLoad | null {
  const greatestN = Math.max(0, ...drops.map(d => d.beforeN))
  const loadsN = HIDDEN_SHARES.map(share => share * greatestN)
  const evidence = hiddenLoadEvidence(drops, told, loadsN)
  const total = evidence?.reduce((sum, e) => sum + e, 0) ?? 0
  if (!evidence || !(total > 0)) return null
  const at = (share: number): number => {
    let sum = 0
    for (let k = 0; k < evidence.length; k++) {
      sum += evidence[k]!
      if (sum >= share * total) return loadsN[k]!
    }
    return loadsN.at(-1)!
  }
  return { valueN: at(0.5), lowN: at(0.025), highN: at(0.975) }
}
