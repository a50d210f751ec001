import { describe, expect, test } from 'vitest'
import { namePattern } from '../../../src/core/statistics/compare/namePattern.ts'
import { readSpecimensTable } from '../../../src/logs/index.ts'
import type { RecordingEntry } from '../../../src/server/apiTypes.ts'
import {
  type AssignBy,
  assign,
  factsByName,
  goesIn,
  specimenGroups,
  twins,
} from '../../../src/web/import/assign.ts'
import type { LogItem } from '../../../src/web/import/types.ts'

const by = (pattern: string, table = ''): AssignBy => {
  const parsed = namePattern(pattern)
  const rows = table === '' ? null : readSpecimensTable(new TextEncoder().encode(table), 't.csv')
  return { pattern: parsed.ok ? parsed.value : null, rows: rows?.ok ? rows.value : [] }
}
let nextId = 1
const log = (name: string, more: Partial<LogItem> = {}): LogItem => ({
  id: nextId++,
  file: new File(['x'], name),
  options: {},
  look: null,
  stale: false,
  problems: [],
  known: null,
  byHand: {},
  adjustments: [],
  rig: null,
  calibration: null,
  leftOut: false,
  byFileTime: false,
  kept: 'no',
  ...more,
})
const look = (sha256: string, ok = true): LogItem['look'] => ({
  sha256,
  firstLines: [],
  columns: [],
  parts: [],
  read: ok
    ? ({ ok: true, value: {} } as unknown as NonNullable<LogItem['look']>['read'])
    : { ok: false, problems: [] },
})
const usual = '{variant}-{n}{part}'

describe('what a log is of', () => {
  test('the pattern gives variant and specimen', () =>
    expect(assign(log('Paste-3b.csv'), by(usual))).toMatchObject({
      specimen: 'Paste 3',
      variant: 'Paste',
      from: 'pattern',
    }))
  test('a name that fits no pattern is a specimen of its own, without a variant', () =>
    expect(assign(log('monday.txt'), by(usual))).toMatchObject({
      specimen: 'monday',
      variant: '',
      from: 'name',
    }))
  test('a table counts before the pattern; files are the same whatever their case and folder', () =>
    expect(
      assign(log('PASTE-3.csv'), by(usual, 'file,specimen,variant\nlogs/paste-3.CSV,P3,glued\n')),
    ).toMatchObject({ specimen: 'P3', variant: 'glued', from: 'table' }))
  test('the hand counts before all, each name by itself', () =>
    expect(assign(log('paste-3.csv', { byHand: { variant: 'other' } }), by(usual))).toMatchObject({
      specimen: 'paste 3',
      variant: 'other',
      from: 'hand',
    }))
  test('a pattern that is none takes nothing', () =>
    expect(assign(log('paste-3.csv'), by('{n}'))).toMatchObject({ specimen: 'paste-3', variant: '' }))
})

describe('what the name of a log tells of its specimen beside whose it is', () => {
  const facts = (pattern: string, ...names: string[]) =>
    factsByName(
      specimenGroups(
        names.map(name => log(name)),
        by(pattern),
      )[0]!,
    )
  const nothing = { operator: '', batch: '', pulledOn: null, pullOrder: null }

  test('nothing, where the pattern has no field for it', () =>
    expect(facts(usual, 'paste-3.csv')).toEqual(nothing))
  test('who, batch, day and order, by the fields of the pattern; of several logs the first tells', () =>
    expect(
      facts(
        '{day} {operator} {batch} {order} {variant}-{n}{part}',
        '2026-05-03 Kim B7 12 paste-3a.csv',
        '2026-05-04 Ann B8 13 paste-3b.csv',
      ),
    ).toEqual({ operator: 'Kim', batch: 'B7', pulledOn: '2026-05-03', pullOrder: 12 }))
  test('what is not a day is none', () =>
    expect(facts('{day} {variant}-{n}', 'Monday paste-3.csv')).toEqual(nothing))
})

test('logs of one specimen stand together, in their order; specimens in that of their first log', () => {
  const groups = specimenGroups([log('a-1.csv'), log('b-1.csv'), log('a-1b.csv')], by(usual))
  expect(groups.map(({ specimen, logs }) => [specimen, logs.map(({ item }) => item.file.name)])).toEqual([
    ['a 1', ['a-1.csv', 'a-1b.csv']],
    ['b 1', ['b-1.csv']],
  ])
})

test('a log dropped twice is found by its bytes', () => {
  const [a, b, c] = [
    log('a.csv', { look: look('1') }),
    log('b.csv', { look: look('2') }),
    log('c.csv', { look: look('1') }),
  ]
  expect([...twins([a, b, c])]).toEqual([[c.id, a]])
})

test('of two names of one log the shorter counts, whichever was dropped first', () => {
  const copy = log('Copy of rivet-1.csv', { look: look('9') })
  const own = log('rivet-1.csv', { look: look('9') })
  expect([...twins([copy, own])]).toEqual([[copy.id, own]])
  expect([...twins([own, copy])]).toEqual([[copy.id, own]])
})

describe('what goes into the store', () => {
  const known = (more: object) =>
    ({ specimen: { id: 's', name: 's' }, setAside: null, ...more }) as RecordingEntry
  test.each([
    ['a log that is understood', { look: look('1') }, true],
    ['one that is not', { look: look('1', false) }, false],
    ['one that is being looked at', { look: look('1'), stale: true }, false],
    ['one that is left out', { look: look('1'), leftOut: true }, false],
    ['one that is in', { look: look('1'), kept: 'yes' as const }, false],
    ['one that a specimen has already', { look: look('1'), known: known({}) }, false],
    ['one that no specimen has', { look: look('1'), known: known({ specimen: null }) }, true],
    ['one that was set aside', { look: look('1'), known: known({ setAside: { at: '', why: '' } }) }, true],
  ])('%s: %#', (_, more, goes) => expect(goesIn(log('x.csv', more), undefined)).toBe(goes))
})
