import { createHash } from 'node:crypto'
import { parseRig, type Rig } from '../../../src/core/calibration/rig.ts'
import type { Adjustment } from '../../../src/core/reading/adjustmentDocument.ts'
import { compareGroups } from '../../../src/core/statistics/compare/compareGroups.ts'
import { specimenOfReading } from '../../../src/core/statistics/compare/fromReading.ts'
import { withHash } from '../../../src/core/withHash.ts'
import { readLog, readSpecimen } from '../../../src/logs/index.ts'
import type { Sha256 } from '../../../src/publish/package/files.ts'
import { keyOf, type ToldPage, USUAL_PAGE } from '../../../src/publish/study/page.ts'
import type { PublishedSpecimen, PublishedStudy } from '../../../src/publish/study/study.ts'
import { good } from '../../store/stores.ts'

export const sha256: Sha256 = async bytes => createHash('sha256').update(bytes).digest('hex')

/** A log of 20 readings a second: a rest, a steady pull to `topN`, a break, a rest; 0.02 N of noise that repeats. */
export function madeLog(topN: number, header = 'time_s,force_N', zeroN = 0.3): Uint8Array {
  const rows: string[] = [header]
  for (let i = 0; i < 320; i++) {
    const t = i / 20
    const noise = 0.02 * Math.sin(12.9898 * i)
    const pulled = t > 4 && t < 12 ? (topN * (t - 4)) / 8 : 0
    rows.push(
      `${t.toFixed(2)},${(zeroN + pulled + noise).toFixed(4)}${header.split(',').length > 2 ? ',1' : ''}`,
    )
  }
  return new TextEncoder().encode(`${rows.join('\n')}\n`)
}

export const PNG = Uint8Array.from(
  Buffer.from(
    'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
    'base64',
  ),
)

export const RIG: Rig = good(
  parseRig(
    JSON.stringify({
      name: 'bench screw',
      cell: { capacityN: 500 },
      calibrations: [
        {
          document: 'tenterhook.quick-scale',
          version: 1,
          date: '2026-04-01',
          basis: 'one-mass',
          readingUnit: 'N',
          newtonPerReading: 1.01,
          zeroReading: 0,
          appliedN: 20,
          doubtPct: 1,
        },
      ],
    }),
    'rig.json',
  ),
)

export interface SpecimenSpec {
  readonly name: string
  readonly variant: string | null
  readonly logs: readonly { readonly name: string; readonly bytes: Uint8Array }[]
  readonly rig?: Rig
  readonly adjustments?: readonly Adjustment[]
  readonly facts?: Partial<PublishedSpecimen>
}

/** A specimen read from its logs as the program reads it. */
export function madeSpecimen({
  name,
  variant,
  logs,
  rig,
  adjustments = [],
  facts = {},
}: SpecimenSpec): PublishedSpecimen {
  const recordings = logs.map(log =>
    withHash(good(readLog(log.bytes, log.name, {})), createHash('sha256').update(log.bytes).digest('hex')),
  )
  const day = rig === undefined ? null : '2026-05-04'
  const said = {
    name,
    variant,
    elements: null,
    widthMm: facts.widthMm ?? null,
    thicknessMm: null,
    lengthMm: null,
    mode: facts.failureMode ?? null,
    note: facts.note ?? null,
  }
  const { recording, reading } = good(
    readSpecimen({
      recordings,
      rig: rig ?? null,
      day,
      calibration: null,
      capacityN: null,
      isPractice: false,
      facts: said,
      adjustments,
    }),
  )
  return {
    name,
    variant,
    status: 'pulled',
    statusReason: '',
    failureMode: null,
    operator: '',
    batch: '',
    temperatureC: null,
    humidityPct: null,
    widthMm: null,
    thicknessMm: null,
    lengthMm: null,
    elements: null,
    note: '',
    remarks: [],
    pullOrder: null,
    pulledAt: null,
    photos: [],
    logs: logs.map((log, i) => ({
      name: log.name,
      sha256: recordings[i]!.sha256,
      byteLength: log.bytes.length,
      source: 'log',
      startedAt: null,
      options: {},
      bytes: async () => log.bytes,
    })),
    recording,
    reading,
    readWith: { rig: rig ?? null, day, calibration: null },
    setAside: [],
    ...facts,
  }
}

export const CUT: Adjustment = {
  // Keys in the order of the schema, as every adjustment has them that was read from a file.
  id: 'c1',
  who: 'Ada Byron',
  when: '2026-05-04T15:00:00Z',
  why: 'a hand on the grip',
  fromS: 0.5,
  toS: 1,
  kind: 'cut',
}

/** A page put together by its maker: a part of their own first, another left out, words before a third. */
export const PAGE: ToldPage = {
  version: 1,
  blocks: [
    {
      kind: 'own',
      id: '1',
      shown: true,
      heading: 'Why <b>we</b> did this',
      words: 'A handle tore.\n\nTwice.',
    },
    ...USUAL_PAGE.blocks
      .toReversed()
      .map(block =>
        keyOf(block) === 'rig'
          ? { ...block, shown: false }
          : keyOf(block) === 'answer'
            ? { ...block, words: '=1+1' }
            : block,
      ),
  ],
  folded: ['thread 3'],
}

/** Six specimens of two variants, one in two logs, one with an adjustment and a photo, all on one rig. */
export function madeStudy(changes: Partial<PublishedStudy> = {}): PublishedStudy {
  const one = (variant: string, n: number, topN: number, more: Partial<SpecimenSpec> = {}) =>
    madeSpecimen({
      name: `${variant} ${n}`,
      variant,
      rig: RIG,
      logs: [{ name: `${variant}-${n}.csv`, bytes: madeLog(topN) }],
      ...more,
    })
  const specimens = [
    one('glue', 1, 40, {
      facts: {
        widthMm: 12,
        failureMode: 'glue let go',
        operator: 'Ada Byron',
        note: '=HYPERLINK("http://x")',
        photos: [
          { name: 'after.png', caption: 'after <b>it</b> broke', mime: 'image/png', bytes: async () => PNG },
        ],
        remarks: [{ text: 'smelled of glue', operator: 'Ada Byron', at: '2026-05-04T15:00:00.000Z' }],
      },
      adjustments: [CUT],
    }),
    one('glue', 2, 44),
    one('glue', 3, 41.5),
    one('thread', 1, 60),
    one('thread', 2, 63.3, {
      logs: [
        { name: 'thread-2.csv', bytes: madeLog(20) },
        { name: 'thread-2.csv', bytes: madeLog(63.3) },
      ],
    }),
    one('thread', 3, 58.2, { facts: { status: 'left-out', statusReason: 'slipped in the grip' } }),
  ]
  const compared = specimens.map(specimen => ({
    ...specimenOfReading(specimen.reading!, 'peakForce', {
      name: specimen.name,
      group: specimen.variant!,
      mode: specimen.failureMode,
      dropped: specimen.status === 'left-out' ? specimen.statusReason : null,
    }).specimen,
  }))
  return {
    name: 'Handles',
    question: 'Does glue hold as well as thread?',
    method: 'Pulled by hand.\nAll on one day.',
    quantity: 'peakForce',
    forceUnit: 'N',
    variants: [
      { name: 'glue', control: true, note: '' },
      { name: 'thread', control: false, note: 'waxed' },
    ],
    specimens,
    rig: RIG,
    checks: [],
    plan: null,
    comparison: compareGroups(compared, { quantity: 'peakForce', unit: 'N', seed: 7 }),
    comparedWith: {
      per: null,
      dimensionDoubtMm: null,
      shown: null,
      worthShare: null,
      seed: 7,
      warnings: [],
    },
    notCompared: null,
    remarks: [{ text: 'rained all day', operator: '', at: '2026-05-04T16:00:00.000Z' }],
    photos: [],
    equivalents: [{ name: 'brick', plural: 'bricks', massKg: 2.3 }],
    page: PAGE,
    films: [],
    madeAt: '2026-05-04T14:20:00.000Z',
    ...changes,
  }
}
