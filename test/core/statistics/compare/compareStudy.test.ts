import { expect, test } from 'vitest'
import {
  type ComparedStudy,
  compareStudy,
  scattersOf,
} from '../../../../src/core/statistics/compare/compareStudy.ts'
import { good } from '../../../store/stores.ts'

const reading = (specimenId: string, valueN: number, forceUnit = 'N') => ({
  specimenId,
  reading: {
    specimen: null,
    recording: { name: specimenId, forceUnit },
    results: {
      peakForce: { status: 'measured', valueN, uncertaintyN: 1, lowN: null, highN: null },
      partialBreaks: 0,
      laterPeaks: [],
      work: null,
      stiffness: null,
    },
    budget: [],
    warnings: [],
  },
})
const specimen = (id: string, variantId: string | null) => ({
  id,
  name: id,
  variantId,
  status: 'pulled',
  statusReason: '',
  failureMode: null,
  batch: '',
  operator: '',
  widthMm: null,
  thicknessMm: null,
  lengthMm: null,
})
const study = (more: Partial<Record<keyof ComparedStudy, unknown>> = {}): ComparedStudy =>
  ({
    study: { quantity: 'force' },
    variants: ['paste', 'stitch'].map(id => ({ id, name: id, control: false })),
    specimens: [
      ...[1, 2, 3].map(n => specimen(`p${n}`, 'paste')),
      ...[1, 2, 3].map(n => specimen(`s${n}`, 'stitch')),
    ],
    readings: [1, 2, 3].flatMap(n => [reading(`p${n}`, 60 + n), reading(`s${n}`, 80 + n)]),
    pulledAt: new Map(),
    ...more,
  }) as unknown as ComparedStudy
const compared = (given: ComparedStudy) => good(compareStudy(given, { quantity: 'peakForce', seed: 1 }))

test('specimens of no variant are in no group and in no figure; they are named, with what to do', () => {
  const loose = study({
    specimens: [...study().specimens, specimen('x1', null), specimen('x2', null)],
    readings: [...study().readings, reading('x1', 5), reading('x2', 500)],
  })
  const { groups, warnings, specimens } = compared(loose)
  expect(groups).toEqual(compared(study()).groups)
  expect(specimens.map(({ name }) => name)).not.toContain('x1')
  expect(warnings.find(({ code }) => code === 'not-assigned')?.text).toBe(
    'Not assigned to a variant, and so in no figure: x1, x2. Assign them to a variant to have them count.',
  )
  expect(compared(study()).warnings.map(({ code }) => code)).not.toContain('not-assigned')
})

test('day and order stay unknown where no moment was told', () => {
  const moments = new Map([
    ['p2', '2026-05-04T10:00:00Z'],
    ['s1', '2026-05-03T10:00:00Z'],
  ])
  const { specimens } = compared(study({ pulledAt: moments }))
  const of = (name: string) => specimens.find(one => one.name === name)
  expect(of('p1')).toMatchObject({ day: null, order: null })
  expect(of('p2')).toMatchObject({ day: '2026-05-04', order: 1 })
  expect(of('s1')).toMatchObject({ day: '2026-05-03', order: 0 })
})

test('pulls of the pretend rig are practice: left out of the verdict, unless the whole study is practice', () => {
  const some = compared(study({ practice: new Set(['p1']) }))
  expect(some.specimens.find(({ name }) => name === 'p1')?.dropped).toBe('practice on the pretend rig')
  expect(some.groups[0]?.n).toBe(2)
  const all = compared(study({ practice: new Set(study().specimens.map(({ id }) => id)) }))
  expect(all.groups.map(({ n }) => n)).toEqual([3, 3])
  expect(all.warnings.map(({ code }) => code)).toContain('practice')
})

test('raw counts wait, and do not block the verdict of the others', () => {
  const readings = [...study().readings.slice(0, 5), reading('s3', 398_861, 'counts')]
  const mixed = compared(study({ readings }))
  expect(mixed.unit).toBe('N')
  expect(mixed.groups.map(({ n }) => n)).toEqual([3, 2])
  expect(mixed.specimens.find(({ name }) => name === 's3')).toMatchObject({ value: null })
  const all = compared(
    study({
      readings: study().readings.map(({ specimenId, reading: { results } }) =>
        reading(specimenId!, 1e4 * results.peakForce.valueN!, 'counts'),
      ),
    }),
  )
  expect(all.unit).toBe('counts')
  expect(all.verdict).toContain('stitch')
  expect(all.verdict).not.toMatch(/\d N\b/)
})

test('the control marked, or the variant named, is what all are compared with', () => {
  const three = study({
    variants: ['paste', 'stitch', 'glue'].map(id => ({ id, name: id, control: id === 'stitch' })),
    specimens: [...study().specimens, ...[1, 2, 3].map(n => specimen(`g${n}`, 'glue'))],
    readings: [...study().readings, ...[1, 2, 3].map(n => reading(`g${n}`, 70 + n))],
  })
  const against = (options: object) =>
    good(compareStudy(three, { quantity: 'peakForce', seed: 1, ...options })).family.against
  expect(against({})).toBeNull()
  expect(against({ againstControl: false })).toBeNull()
  expect(against({ againstControl: true })).toBe('stitch')
  expect(against({ against: 'glue' })).toBe('glue')
})

test('like studies lend their scatter, and the plain answer stands beside it', () => {
  const like = scattersOf(study(), 'peakForce')
  // Two variants of three each: 61, 62, 63 and 81, 82, 83, of sd 1.
  expect(like.map(({ df }) => df)).toEqual([2, 2])
  expect(like[0]!.square).toBeCloseTo(1 / 62 ** 2, 12)
  const borrowing = good(compareStudy(study(), { quantity: 'peakForce', seed: 1, like: [...like, ...like] }))
  expect(borrowing.borrowed!.prior.groups).toBe(4)
  expect(borrowing.pairs).toEqual(compared(study()).pairs)
  expect(compared(study()).borrowed).toBeNull()
})

test('what is kept of each specimen, and numbers of one’s own, can be taken out of the scatter', () => {
  // Each newton more goes with 2 °C less: without it nothing is left of the scatter but the half newton put in here.
  const rest: Readonly<Record<string, number>> = { p1: 0.5, p2: -0.5, p3: 0, s1: 0, s2: 0.5, s3: -0.5 }
  const given = study({
    specimens: study().specimens.map(s => ({
      ...s,
      temperatureC: 30 - 2 * Number(s.id.slice(1)) + rest[s.id]!,
    })),
  })
  const by = (covariate: NonNullable<Parameters<typeof compareStudy>[1]['covariate']>) =>
    good(compareStudy(given, { quantity: 'peakForce', seed: 1, covariate }))
  const warm = by('temperature')
  expect(warm.covariate).toMatchObject({ name: 'temperature', used: true })
  expect(warm.covariate!.slope).toBeLessThan(-0.4)
  const of = new Map(given.specimens.map(s => [s.id, s.temperatureC!]))
  expect(by({ name: 'glue mass', of }).covariate).toEqual({ ...warm.covariate, name: 'glue mass' })
  // Of one the number is missing: nothing is taken out, and that is said.
  of.delete('p2')
  const missing = by({ name: 'glue mass', of })
  expect(missing.covariate).toBeNull()
  expect(missing.warnings.find(w => w.code === 'covariate-not-used')?.text).toMatch(
    /^glue mass is not taken out: it is not known of every specimen/,
  )
  expect(by('humidity').covariate).toBeNull()
})
