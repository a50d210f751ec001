import type { ComparedGroup, Comparison, ComparisonWarning } from '../document.ts'
import type { BlockedLayout } from './blocks.ts'
import { mixedGroups } from './modes.ts'
import { atLeastOf } from './specimen.ts'
import { isSeen, type Judged, LEVEL } from './verdict.ts'
import { amount, list, percent, pText, specimens } from './words.ts'

interface Found {
  readonly judged: Judged
  readonly described: readonly ComparedGroup[]
  readonly modes: Comparison['modes']
  readonly trend: Comparison['trend']
  readonly overall: Comparison['overall']
  readonly blocks: Comparison['blocks']
  readonly layout: BlockedLayout | 'untied' | null
}

/** Doubt of the values that makes a tenth of the scatter's variance or more is not small beside it. */
const NOT_SMALL = 0.1

/** Everything about a comparison that its reader must know before believing it. */
export function comparisonWarnings(found: Found): ComparisonWarning[] {
  return [
    ...groupCount(found),
    ...found.described.flatMap(g => ofGroup(g, found.judged)),
    ...doubtWarnings(found),
    ...modeWarnings(found),
    ...scatterWarnings(found),
    ...orderWarnings(found),
    ...blockWarnings(found),
  ]
}

function groupCount({ judged }: Found): ComparisonWarning[] {
  return judged.groups.length === 1
    ? [
        {
          code: 'one-group',
          text: `There is only one group, ${judged.groups[0]!.name}: nothing to compare it with.`,
        },
      ]
    : []
}

function ofGroup(group: ComparedGroup, { groups, scale }: Judged): ComparisonWarning[] {
  const own = groups.find(g => g.name === group.name)!.specimens
  const reached = atLeastOf(own).filter(s => s.failedOtherwise !== true)
  return [
    ...(reached.length > 0
      ? [
          {
            code: 'at-least',
            text: `${group.name}: ${list(reached.map(s => `${s.name} (${amount(s.value!, scale)})`))} held at least so much and did not break. ${reached.length === 1 ? 'It is' : 'They are'} counted so in ranks and in the Weibull fit; a mean would be too low without and wrong with ${reached.length === 1 ? 'it' : 'them'}${group.estimatedMean ? `, so it is estimated with the bounds as bounds: ${amount(group.estimatedMean.mean, scale, (group.estimatedMean.ci95[1] - group.estimatedMean.ci95[0]) / 2)}` : `, so none is given: it is at least ${amount(group.meanAtLeast!, scale)}`}.`,
          },
        ]
      : []),
    ...(group.notRecorded.length > 0
      ? [
          {
            code: 'not-recorded',
            text: `${group.name}: ${list(group.notRecorded)} ${group.notRecorded.length === 1 ? 'has' : 'have'} no value and ${group.notRecorded.length === 1 ? 'is' : 'are'} not in the figures. If it was missed because it was weak or strong, they are wrong by that.`,
          },
        ]
      : []),
    // Those that wait for their rig are named in a warning of their own.
    ...group.dropped
      .filter(d => !group.otherScale?.includes(d.specimen))
      .map(d => ({
        code: 'dropped',
        text: `${group.name}: ${d.specimen}${d.value === null ? '' : ` (${amount(d.value, scale)})`} was dropped: ${d.why}.`,
      })),
    ...group.outliers.map(o => ({
      code: 'outlier-suspect',
      text: `${group.name}: ${o.specimen} (${amount(o.value, scale)}) stands apart (${o.test} ${o.statistic.toFixed(3)}, limit ${o.critical.toFixed(3)}). It counts; look at its curve for a reason before dropping it.`,
    })),
    ...(group.n === 2
      ? [{ code: 'few-specimens', text: `${group.name}: two specimens barely show the scatter.` }]
      : []),
    ...(group.n >= 2 && group.missing.some(m => m.figure === 'ci95' && m.why === 'no-scatter')
      ? [
          {
            code: 'no-scatter',
            text: `${group.name}: all ${specimens(group.n)} have the same value. Scatter that cannot be seen is not scatter of nothing: the display is too coarse, or a value was copied.`,
          },
        ]
      : []),
  ]
}

function doubtWarnings({ described, judged }: Found): ComparisonWarning[] {
  return described.flatMap(g => {
    const own = g.doubt
    const large = own !== null && (own.shareOfVariance === null || own.shareOfVariance >= NOT_SMALL)
    const shared = g.sharedStandard !== null && g.sd !== null && 1.96 * g.sharedStandard > 0.25 * g.sd
    return [
      ...(large
        ? [
            {
              code: 'doubt-not-small',
              text: `${g.name}: the doubt of each value (± ${amount(1.96 * own.ownStandard, judged.scale)}) is not small beside the scatter${own.shareOfVariance === null || own.shareOfVariance >= 1 ? ': measuring alone would make as much' : `: measuring makes ${percent(own.shareOfVariance)} of its variance`}. The specimens are more alike than they look.`,
            },
          ]
        : []),
      ...(shared
        ? [
            {
              code: 'shared-doubt',
              text: `${g.name}: ± ${amount(1.96 * g.sharedStandard!, judged.scale)} of the doubt is shared by all values of a rig or a day. More specimens do not shrink it; in a difference on one rig it cancels.`,
            },
          ]
        : []),
    ]
  })
}

function modeWarnings({ modes, judged }: Found): ComparisonWarning[] {
  if (judged.mode !== null) return [oneMode(judged, judged.mode)]
  const mixed = mixedGroups(modes)
  const shown = (group: string): string =>
    list(modes.filter(m => m.group === group).map(m => `${m.n} × ${m.mode ?? 'not noted'}`))
  const main = [...new Set(modes.map(m => m.group))].map(group => modes.find(m => m.group === group)!.mode)
  return [
    ...mixed.map(group => ({
      code: 'mixed-modes',
      text: `${group} failed in more than one way (${shown(group)}): its mean mixes different things. Compare by mode.`,
    })),
    ...(new Set(main).size > 1
      ? [
          {
            code: 'modes-differ',
            text: 'The groups fail in different ways: the comparison is of the weakest part of each, not of one property.',
          },
        ]
      : []),
  ]
}

/** What comparing one way of failing rests on. */
function oneMode({ groups }: Judged, mode: string): ComparisonWarning {
  const others = groups.map(g => {
    const counted = g.specimens.filter(s => s.dropped === null && s.value !== null)
    return `${counted.filter(s => s.failedOtherwise).length} of ${counted.length} ${g.name}`
  })
  return {
    code: 'one-mode',
    text: `Only failing by “${mode}” is compared: what failed in another way, or nobody noted how (${list(others)}), counts as having held at least so much against it. That holds if the ways of failing do not hang together; a specimen weak in one and so in the other would make it read high.`,
  }
}

function scatterWarnings({ overall }: Found): ComparisonWarning[] {
  const spread = overall?.levene
  return spread && spread.p < LEVEL
    ? [
        {
          code: 'unequal-scatter',
          text: `The groups do not scatter alike (Brown–Forsythe ${pText(spread.p)}): Welch and Games–Howell hold, Tukey and the plain analysis of variance do not.`,
        },
      ]
    : []
}

function orderWarnings({ trend, judged }: Found): ComparisonWarning[] {
  return trend && trend.p < LEVEL
    ? [
        {
          code: 'order-trend',
          text: `The values ${trend.slope > 0 ? 'rise' : 'fall'} with the order of pulling, by ${amount(Math.abs(trend.slope), judged.scale)} a pull (${pText(trend.p)}): the rig, the weather or the hand drifts. If the groups were pulled one after the other, the drift is in their difference.`,
        },
      ]
    : []
}

function blockWarnings({ blocks, layout, judged }: Found): ComparisonWarning[] {
  if (blocks === null) return []
  if (!blocks.tied)
    return [
      {
        code: 'blocks-untied',
        text: `No variant was pulled on more than one ${blocks.by}: nothing ties one ${blocks.by} to another.`,
      },
    ]
  if (layout === null)
    return [
      {
        code: 'blocks-too-few',
        text: `There are too few specimens, or too few with a known ${blocks.by}, to take the ${blocks.by} out: as many as there are groups and different ${blocks.by} entries together would do.`,
      },
    ]
  const { interaction } = layout === 'untied' ? { interaction: null } : layout
  const reacts: ComparisonWarning[] = interaction?.judgedAgainst
    ? [
        {
          code: 'blocks-interact',
          text:
            interaction.p < LEVEL
              ? `The variants do not react alike from one ${blocks.by} to another (${pText(interaction.p)}): a difference is judged by how it varies between them, so only more of them, not more specimens in each, make it surer.`
              : `Whether all variants react alike to the ${blocks.by} cannot be told from so few of them: a difference is judged by how it varies between them, so only more of them, not more specimens in each, make it surer.`,
        },
      ]
    : []
  const differ = blocks.blocks !== null && blocks.blocks.p < LEVEL
  const seen = judged.pairs.some(isSeen)
  return [
    ...reacts,
    ...(differ
      ? [
          {
            code: 'blocks-differ',
            text: `Values differ from one ${blocks.by} to another (${pText(blocks.blocks!.p)}): differences are taken within a ${blocks.by}${seen ? '' : ', and none is seen even so'}.`,
          },
        ]
      : []),
  ]
}
