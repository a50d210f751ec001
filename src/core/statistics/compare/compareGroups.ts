import { answerOf } from '../../answer/answerOf.ts'
import { plainNumber } from '../../units/showForce.ts'
import { ENGINE_VERSION } from '../../version.ts'
import type { ComparedGroup, Comparison, ComparisonWarning } from '../document.ts'
import { type BlockedLayout, blockedPair } from './blocks.ts'
import type { RelativeScatter } from './borrowed.ts'
import { borrowedAnswer } from './borrowedAnswer.ts'
import { type AdjustedPair, comparePair } from './comparePair.ts'
import { type CovariedGroups, covariateWarnings, covariedInBlocks, covariedOf } from './covaried.ts'
import { describeGroup } from './describeGroup.ts'
import { proofOf } from './heldLoad.ts'
import { inStatistics } from './inStatistics.ts'
import { judgePairs, perGroupOf } from './judgePairs.ts'
import { blocksOf, layoutOf } from './layoutOf.ts'
import {
  alarmsIfUnplanned,
  type Looks,
  levelAtLook,
  looksBefore,
  looksThatCount,
  standingAtLook,
} from './looks.ts'
import { againstMode, boundsOtherModes, byMode } from './modes.ts'
import { needMore, WORTH_SHARE } from './needMore.ts'
import { notShown } from './notShown.ts'
import { type Group, overallOf, trendOf } from './overall.ts'
import { pairDocuments } from './pairDocuments.ts'
import { pairs as pairsOf } from './pairs.ts'
import { atLeastOf, measuredOf, type Specimen } from './specimen.ts'
import { trendOverLooks } from './trendOverLooks.ts'
import { isSeen, type Judged, LEVEL, middleOf, verdictOf } from './verdict.ts'
import { comparisonWarnings } from './warnings.ts'
import { list, percent, type Scale } from './words.ts'

export interface CompareOptions {
  /** One of ours (`peakForce` …) or the name of a table's column. */
  readonly quantity: string
  readonly unit: string
  /** Unit in which people read it, where that is another: `kgf` and the newton in one. */
  readonly shown?: Scale['shown']
  /** What a block is: `day`, `batch`, `operator`. */
  readonly blocksBy?: string | null
  /** Group that is pulled in every block to tie them. */
  readonly control?: string | null
  /** Group that every other is compared with, and they not with each other; `null` for each with each. */
  readonly against?: string | null
  /**
   * The one way of failing that is compared: what failed in another held at least so much against it. `null`: each by whatever let go
   * first. Only where the quantity grows up to the failure.
   */
  readonly mode?: string | null
  /** What the specimens' `covariate` is, in words: the groups are compared as if all had the same of it, within blocks where those are asked for too. */
  readonly covariate?: string | null
  /**
   * A difference worth knowing, as a share of the mean: what “as good as” means, and how many more are asked for. Where
   * nobody has said (`null`), nothing is called as good as anything and {@link WORTH_SHARE} sets the numbers asked for.
   */
  readonly worthShare?: number | null
  /** Scatters of groups of like studies, which the pairs of few specimens may borrow beside their plain answer. */
  readonly like?: readonly RelativeScatter[] | null
  /** A load of which is said how many held it. */
  readonly proofLoad?: number | null
  /** Where the study is looked at more than once; `null` for a single look. */
  readonly looks?: Looks | null
  /** Of the bootstrap and of random permutations. */
  readonly seed?: number
  /** What the readings or the table already warned of. */
  readonly warnings?: readonly ComparisonWarning[]
}

/**
 * The comparison of all groups, in the order in which their names first occur. Specimens that were dropped or not
 * recorded are listed and do not count; those that only reached a bound count as that and leave no mean.
 */
export function compareGroups(
  given: readonly Specimen[],
  {
    quantity,
    unit,
    shown = null,
    blocksBy = null,
    control = null,
    against = null,
    mode: askedMode = null,
    covariate = null,
    worthShare = null,
    like = null,
    proofLoad = null,
    looks: remembered = null,
    seed = 1,
    warnings = [],
  }: CompareOptions,
): Comparison {
  const scale: Scale = { unit, shown }
  const mode = askedMode !== null && boundsOtherModes(quantity) ? askedMode : null
  const specimens = mode === null ? given : againstMode(given, mode)
  const groups = [...new Set(specimens.map(s => s.group))].map(name => ({
    name,
    specimens: specimens.filter(s => s.group === name),
  }))
  const looks = looksThatCount(remembered, perGroupOf(groups))
  const described = groups.map(g => describeGroup(g.name, g.specimens, seed))
  const inBlocks = blocksBy === null || covariate === null ? null : covariedInBlocks(groups, covariate)
  const layout = blocksBy === null ? null : (inBlocks?.layout ?? layoutOf(groups))
  const covaried = covariate === null || blocksBy !== null ? null : covariedOf(groups, covariate)
  const middle = groups.findIndex(g => g.name === against)
  const places = pairsOf(groups.length).filter(([a, b]) => middle < 0 || a === middle || b === middle)
  const tests = places.map(([a, b]) => ({
    a,
    b,
    tests: comparePair(groups[a]!.specimens, groups[b]!.specimens, {
      adjusted: adjustedPair(layout, covaried, a, b),
      seed,
    }),
  }))
  const untied = layout === 'untied' ? blocksBy : null
  const { pairs: judgedPairs, family } = judgePairs(groups, tests, {
    isUntied: untied !== null,
    worthShare,
    looks,
    control: middle < 0 ? null : middle,
  })
  const overall = overallOf(groups)
  const judged: Judged = {
    quantity,
    scale,
    groups,
    pairs: judgedPairs,
    family,
    worthShare,
    factor: trendOverLooks(groups, looks, perGroupOf(groups)),
    against: middle < 0 ? null : against,
    mode,
    untied,
    overallP: (overall?.welch ?? overall?.kruskalWallis)?.p ?? null,
  }
  const modes = byMode(given)
  const trend = trendOf(groups)
  const blocks = blocksBy === null ? null : blocksOf(layout, blocksBy, control, specimens)
  const documents = specimens.map(s => specimenDocument(s, described))
  const compared: Omit<Comparison, 'answer'> = {
    document: 'tenterhook.comparison',
    version: 2,
    engine: ENGINE_VERSION,
    quantity,
    unit,
    groups: described,
    overall,
    family: {
      count: family.count,
      level: family.level,
      look: looks === null ? null : looksBefore(looks, perGroupOf(groups)).length + 1,
      against: middle < 0 ? null : against,
    },
    worthShare,
    mode,
    pairs: pairDocuments(judged, layout),
    blocks,
    trend,
    factor: judged.factor,
    covariate: (covaried ?? inBlocks)?.document ?? null,
    borrowed: like === null ? null : borrowedAnswer(judged, like),
    proof: proofLoad === null ? null : proofOf(documents, proofLoad, scale),
    modes,
    specimens: documents,
    verdict: verdictOf(judged),
    inStatistics: inStatistics(judged, overall),
    notShown: notShown(judged),
    needMore: untied === null ? moreNeeded(judged, groups, looks) : null,
    warnings: [
      ...warnings,
      ...(covariate === null
        ? []
        : covariateWarnings(covariate, (covaried ?? inBlocks)?.document ?? null, blocksBy)),
      ...(askedMode !== null && mode === null ? [modeNotUsed(askedMode)] : []),
      ...lookWarnings(looks, perGroupOf(groups)),
      ...comparisonWarnings({ judged, described, modes, trend, overall, blocks, layout }),
    ],
  }
  return { ...compared, answer: answerOf(compared) }
}

const modeNotUsed = (mode: string): ComparisonWarning => ({
  code: 'mode-not-used',
  text: `What is compared here is not a strength, so how a specimen failed leaves no bound of it: all are compared, not “${mode}” alone.`,
})

function lookWarnings(looks: Looks | null, now: number): ComparisonWarning[] {
  if (looks === null) return []
  const { stages = null, planned = null } = looks
  const earlier = looksBefore(looks, now)
  const { stage, spent } = standingAtLook(looks, now)
  if (levelAtLook(LEVEL, looks, now, 1) === 0)
    return [
      {
        code: 'looks-unplanned',
        text: `This study was compared before with ${list(earlier.map(n => plainNumber(n, n % 1 === 0 ? 0 : 1)))} of each, and no later stage was planned. Judged once more at 5 %, the chance of a false alarm over all looks is about ${percent(alarmsIfUnplanned(LEVEL, looks, now))}: take what is seen only now for a hint, and pull anew to show it.`,
      },
    ]
  if (stage === 0)
    return [
      {
        code: 'looks',
        text: `Not all of the ${planned} planned of each are pulled: this early look may spend ${percent(LEVEL * spent)} of the 5 % chance of a false alarm, so only a very large difference counts as seen yet.`,
      },
    ]
  // A single look, or the first of one, is as if there were no others.
  if (stages === 1) return []
  const left =
    spent < 1
      ? `up to here ${spentText(spent)} of the 5 % chance of a false alarm are spent, the rest is kept for a look after more pulls`
      : 'with it all of the 5 % chance of a false alarm is spent, so more pulls can show nothing further'
  return [
    {
      code: 'looks',
      text: `Look ${stage}${stages === null ? '' : ` of ${stages}`} at this study: ${left}. It makes the intervals a little wider than those of a single look.`,
    },
  ]
}

/** What is spent of the 5 %, to as many digits as tell it from all. */
function spentText(spent: number): string {
  const of100 = 100 * LEVEL * spent
  const decimals = [1, 2, 3, 4].find(digits => Number(of100.toFixed(digits)) < 100 * LEVEL) ?? 5
  return `${plainNumber(of100, decimals)} %`
}

/** What is still to be pulled; before the planned number is reached, that number: an early look may hardly call anything seen. */
function moreNeeded(
  { pairs, worthShare, family }: Judged,
  groups: readonly Group[],
  looks: Looks | null,
): Comparison['needMore'] {
  // More pulls help no group whose pulls only wait for their rig.
  const waiting = new Set(
    groups
      .filter(
        g =>
          g.specimens.some(s => s.otherScale) &&
          measuredOf(g.specimens).length + atLeastOf(g.specimens).length === 0,
      )
      .map(g => g.name),
  )
  const open = pairs
    .filter(p => !waiting.has(p.a.name) && !waiting.has(p.b.name))
    .map(p => ({
      tests: p.tests,
      settled: isSeen(p) || p.equivalence?.shown === true,
      middle: middleOf(p),
    }))
  const now = perGroupOf(groups)
  const planned = looks?.planned ?? null
  if (looks !== null && planned !== null && standingAtLook(looks, now).stage === 0)
    return open.every(p => p.settled)
      ? null
      : { perGroup: Math.ceil(planned - now), inAll: planned, toSee: null, toSeePct: null }
  return needMore(open, { worthShare: worthShare ?? WORTH_SHARE, family })
}

/** The pair from the blocks' layout, or from the covariate's where it is used. */
function adjustedPair(
  layout: BlockedLayout | 'untied' | null,
  covaried: CovariedGroups | null,
  a: number,
  b: number,
): AdjustedPair | null {
  const blocked = blockedPair(layout, a, b)
  if (layout !== null && layout !== 'untied' && blocked !== null) {
    const { residualSd, blockCount, perCell } = layout
    return { by: 'blocks', pair: blocked, residualSd, layout: { blocks: blockCount, perCell } }
  }
  const pair = covaried?.layout?.pairs.find(p => p.a === a && p.b === b)
  return covaried?.layout && pair
    ? { by: 'covariate', pair, residualSd: covaried.layout.residualSd, layout: null }
    : null
}

function specimenDocument(s: Specimen, described: readonly ComparedGroup[]): Comparison['specimens'][number] {
  const outlier = described
    .find(g => g.name === s.group)
    ?.outliers.find(o => o.specimen === s.name && s.dropped === null && o.value === s.value)
  const { name, group, status, value, low, high, mode, block, day, order, dropped, failedOtherwise } = s
  return {
    name,
    group,
    status,
    value,
    low,
    high,
    mode,
    block,
    day,
    order,
    dropped,
    ...(failedOtherwise ? { failedOtherwise } : {}),
    suspect: outlier
      ? { test: outlier.test, statistic: outlier.statistic, critical: outlier.critical }
      : null,
  }
}
