import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { writeDemo } from '../../src/cli/demo/writeDemo.ts'
import { studyFromFiles } from '../../src/cli/publish/studyFromFiles.ts'
import { calibrate } from '../../src/core/calibration/calibrate.ts'
import type { Check } from '../../src/core/calibration/checkDocument.ts'
import { type Rig, rigSchema } from '../../src/core/calibration/rig.ts'
import { typedGravity } from '../../src/core/units/gravity.ts'
import type { PublishedStudy } from '../../src/publish/study/study.ts'
import { good } from '../store/stores.ts'

/** The demo as it is told: fifteen specimens, a calibrated rig with seven checks, notes of two people, one left out. */
export async function toldDemo(): Promise<PublishedStudy> {
  const folder = mkdtempSync(join(tmpdir(), 'tenterhook-told-'))
  try {
    const demo = good(await writeDemo(folder))
    const files = demo.specimens.flatMap(specimen => [...specimen.paths])
    const flags = {
      specimens: demo.table,
      drop: [{ name: 'hot-melt-5', why: 'the bag tore' }],
      worth: 0.1,
      seed: 1,
      name: 'Carrier-bag handles',
      question: 'Which of three ways holds best?',
    }
    const study = good(await studyFromFiles(files, flags, { ...silent, err: () => {} }))
    return {
      ...study,
      method: 'Glued on one day.\n\nPulled on the next.',
      rig: rig(),
      checks: checks(),
      remarks: [{ text: 'Rain all day.', operator: 'Mary Ann Evans', at: '2026-05-04T09:00:00Z' }],
      equivalents: [{ name: '1-litre milk carton', plural: '1-litre milk cartons', massKg: 1.07 }],
      madeAt: '2026-05-05T12:00:00.000Z',
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

const silent = { out: () => {}, outIsTerminal: false, errIsTerminal: false, columns: 100, env: {} }

function rig(): Rig {
  const calibration = good(
    calibrate(
      {
        name: 'points.csv',
        points: [1, 2, 3].flatMap(cycle =>
          [0, 20, 40, 60, 80, 100].map((appliedN, k) => ({
            line: 6 * cycle + k,
            appliedN,
            reading: 1000 + 2000 * appliedN + ((cycle * 7 + k * 3) % 5) * 20,
            direction: 'up' as const,
            cycle,
          })),
        ),
        doubts: [],
        gravity: typedGravity(9.81, 0.005),
        readingUnit: 'counts',
      },
      { date: '2026-05-01' },
    ),
  )
  return rigSchema.parse({
    name: 'bench',
    cell: { capacityN: 500 },
    converter: { name: '24-bit bridge converter', rateHz: 40 },
    drive: { mmPerTurn: 1.5 },
    strokeMm: 60,
    gravity: { ms2: 9.81 },
    calibrations: [calibration],
  })
}

const checks = (): Check[] =>
  [0.1, -0.1, 0.2, 0, 0.1, -0.2, 0.15].map((pct, i) => ({
    document: 'tenterhook.check',
    version: 1,
    at: `2026-05-0${i + 1}T08:00:00Z`,
    appliedN: 10,
    appliedStandardN: 0.01,
    indicatedN: 10 * (1 + pct / 100),
    indicatedStandardN: 0.01,
    zeroN: 0,
    calibration: '2026-05-01',
    verdict: 'within',
    findings: [],
  }))

/** What no page may ever run or be broken by. */
export const HOSTILE = '<img src=x onerror="document.title=1">"\'</script><script>document.title=2</script>'

/** The same study with the worst in every text that people or logs may give. */
export function hostileDemo(study: PublishedStudy): PublishedStudy {
  return {
    ...study,
    name: HOSTILE,
    question: HOSTILE,
    method: HOSTILE,
    remarks: [{ text: HOSTILE, operator: HOSTILE, at: null }],
    variants: study.variants.map(variant => ({ ...variant, note: HOSTILE })),
    rig: study.rig === null ? null : { ...study.rig, name: HOSTILE, note: HOSTILE },
    specimens: study.specimens.slice(0, 2).map(one => ({
      ...one,
      name: HOSTILE,
      variant: HOSTILE,
      note: HOSTILE,
      failureMode: HOSTILE,
      operator: HOSTILE,
      statusReason: HOSTILE,
      status: 'left-out',
      logs: one.logs.map(log => ({ ...log, name: HOSTILE })),
      setAside: [{ name: HOSTILE, why: HOSTILE }],
      photos: [
        {
          name: HOSTILE,
          caption: HOSTILE,
          mime: 'image/png',
          bytes: async () => Uint8Array.from(atob(DOT), letter => letter.charCodeAt(0)),
        },
      ],
      reading:
        one.reading === null
          ? null
          : {
              ...one.reading,
              specimen: one.reading.specimen && { ...one.reading.specimen, name: HOSTILE },
              adjustments: [
                {
                  id: 'a',
                  kind: 'elements',
                  count: 8,
                  who: HOSTILE,
                  why: HOSTILE,
                  when: '2026-05-04T14:20:00Z',
                },
              ],
            },
    })),
  }
}

/** One grey pixel. */
const DOT = 'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg=='
