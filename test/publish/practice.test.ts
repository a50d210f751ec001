import { describe, expect, test } from 'vitest'
import { PRACTICE } from '../../src/core/reading/practice.ts'
import { readRecording } from '../../src/core/reading/readRecording.ts'
import { compareGroups } from '../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen } from '../../src/core/statistics/compare/specimen.ts'
import { readLog } from '../../src/logs/index.ts'
import { captionCues } from '../../src/publish/captions/cues.ts'
import { clipTrack } from '../../src/publish/clip/track.ts'
import { FIGURES } from '../../src/publish/figure/figureNames.ts'
import { overlayFigure } from '../../src/publish/figure/overlayFigure.ts'
import { studyFigure } from '../../src/publish/figure/studyFigure.ts'
import { trendFigure } from '../../src/publish/figure/trendFigure.ts'
import { placedByHand } from '../../src/publish/sync/place.ts'
import { publishedStudy } from '../../src/server/publishedStudy.ts'
import { keepReading } from '../../src/server/specimenReading.ts'
import type { Store } from '../../src/store/index.ts'
import { ENGINES, good, inStore } from '../store/stores.ts'

/** At rest, an even rise to a peak, a break, at rest. */
const pull = (peakN: number) =>
  new TextEncoder().encode(
    `time_s,force_N\n${Array.from({ length: 240 }, (_, i) => {
      const rise = i < 60 || i > 180 ? 0 : ((i - 60) / 120) * peakN
      return `${(i / 20).toFixed(2)},${(rise + 0.02 * Math.sin(i)).toFixed(3)}\n`
    }).join('')}`,
  )

const REAL = 'serial /dev/bench'
const PRETEND = 'pretend rig brittle'

/** Two variants of three specimens each; `deviceOf` says what sent the log of each. */
async function filled(store: Store, deviceOf: (specimen: string) => string): Promise<void> {
  for (const [v, variant] of ['paste', 'stitch'].entries())
    for (const n of [1, 2, 3]) {
      const specimen = good(
        await store.specimens.named({ study: 'Handles', variant, specimen: `${variant} ${n}` }),
      )
      const log = pull(50 + 20 * v + n)
      const recording = good(readLog(log, `${variant}-${n}.csv`))
      const device = deviceOf(specimen.name)
      good(await store.recordings.save({ recording, log, source: 'live', device, specimenId: specimen.id }))
      good(await keepReading(store, specimen.id))
    }
}

const [engine] = ENGINES
const MARK = 'practice on the pretend rig'

describe('practice', () => {
  test('of a study that is all practice every figure of pulls says so, with its headline or without', () =>
    inStore(engine!, async store => {
      await filled(store, () => PRETEND)
      const study = good(await publishedStudy(store, 'Handles'))
      expect(study.specimens).toHaveLength(6)
      const drawn = FIGURES.filter(name => name !== 'calibration' && name !== 'check')
      for (const name of drawn)
        for (const withHeadline of [true, false]) {
          const svg = good(studyFigure(study, name, { withHeadline }))
          expect(svg, name).toMatch(name === 'pull' ? /paste 1 \(practice\)/ : new RegExp(`>${MARK}<`))
        }
      expect(JSON.stringify(study.comparison?.warnings)).toContain('practice')
    }))

  test('among real pulls it is in no figure, no verdict and on no page', () =>
    inStore(engine!, async store => {
      await filled(store, name => (name === 'paste 2' ? PRETEND : REAL))
      const study = good(await publishedStudy(store, 'Handles'))
      expect(study.specimens.map(({ name }) => name)).toEqual([
        'paste 1',
        'paste 3',
        'stitch 1',
        'stitch 2',
        'stitch 3',
      ])
      expect(study.comparison?.groups.map(({ n }) => n)).toEqual([2, 3])
      for (const name of ['answer', 'variant', 'dots', 'overlay', 'pull'] as const) {
        const svg = good(studyFigure(study, name))
        expect(svg, name).not.toContain('ractice')
        expect(svg, name).not.toContain('paste 2')
      }
    }))

  test('a real pull that was set aside makes no real study of one that is all practice', () =>
    inStore(engine!, async store => {
      await filled(store, () => PRETEND)
      const spoiled = good(
        await store.specimens.named({ study: 'Handles', variant: 'paste', specimen: 'paste 4' }),
      )
      const log = pull(30)
      const recording = good(readLog(log, 'spoiled.csv'))
      const { entry } = good(
        await store.recordings.save({
          recording,
          log,
          source: 'live',
          device: REAL,
          specimenId: spoiled.id,
        }),
      )
      good(await store.recordings.setAside(entry.id, 'slipped out of the grip'))
      expect(good(await publishedStudy(store, 'Handles')).comparison?.groups.map(({ n }) => n)).toEqual([
        3, 3,
      ])
    }))

  test('a curve of it beside real ones is a group of its own and named for what it is', () => {
    const recording = good(readLog(pull(40), 'a.csv'))
    const reading = { ...readRecording(recording), warnings: [PRACTICE] }
    const curves = [
      { recording, reading: readRecording(recording), group: 'paste', name: 'p1' },
      { recording, reading, group: 'paste', name: 'p2' },
    ]
    const svg = overlayFigure(curves, { align: 'start' })
    expect(svg).toContain('>paste (practice)<')
    expect(svg).toContain('<title>p2 (practice)</title>')
    expect(svg).toContain('<title>p1</title>')
    expect(svg).toContain(`>${MARK}<`)
    expect(overlayFigure(curves.slice(0, 1), { align: 'start' })).not.toContain('ractice')
    const among = overlayFigure(curves, { align: 'start', strong: 'p2' })
    expect(among).toContain('>p2 (practice)<')
  })

  test('a trend of it says so', () => {
    const specimens = ['10 mm', '20 mm', '30 mm'].flatMap((name, g) =>
      [1, 2, 3, 4].map(i => plainSpecimen(`${name} ${i}`, name, 30 + 15 * g + i)),
    )
    const comparison = compareGroups(specimens, { quantity: 'peakForce', unit: 'N' })
    expect(trendFigure(comparison)).not.toContain(MARK)
    const warnings = [{ code: 'practice', text: 'All pulls are practice.' }] as const
    expect(trendFigure({ ...comparison, warnings: [...warnings] })).toContain(`>${MARK}<`)
  })

  test('on a film its name and every caption say so', () => {
    const recording = good(readLog(pull(40), 'a.csv'))
    const real = readRecording(recording)
    const practice = { ...real, warnings: [PRACTICE] }
    expect(clipTrack(recording, practice, { name: 'p1', unit: 'N' }).name).toBe('p1 (practice)')
    expect(clipTrack(recording, real, { name: 'p1', unit: 'N' }).name).toBe('p1')
    const lines = (reading: typeof practice | typeof real, name: string | null) =>
      captionCues([{ recording, reading, name, placements: [placedByHand(recording, 0)] }], {
        lengthS: 12,
        unit: 'N',
        perSecond: 2,
      }).map(cue => cue.lines[0]!)
    for (const line of lines(practice, null)) expect(line).toMatch(/^practice: /)
    for (const line of lines(practice, 'p1')) expect(line).toMatch(/^p1 \(practice\): /)
    for (const line of lines(real, null)) expect(line).not.toContain('practice')
  })
})
