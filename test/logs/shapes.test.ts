import { describe, expect, test } from 'vitest'
import { type LogForceUnit, N_PER } from '../../src/core/units/force.ts'
import { FORCE, f, plain, rows, type Shape, shapes, TIME, t } from './shapes.ts'
import { recordingOf, utf8 } from './support.ts'

const units: readonly (readonly [word: string, unit: LogForceUnit])[] = [
  ['N', 'N'],
  ['kN', 'kN'],
  ['mN', 'mN'],
  ['kgf', 'kgf'],
  ['kg', 'kgf'],
  ['gf', 'gf'],
  ['g', 'gf'],
  ['tf', 'tf'],
  ['lbf', 'lbf'],
  ['lb', 'lbf'],
  ['lbs', 'lbf'],
  ['ozf', 'ozf'],
  ['oz', 'ozf'],
  ['kip', 'kip'],
  ['Newton', 'N'],
]

function check({
  log,
  options,
  unit = 'N',
  time = TIME,
  force = FORCE,
  understood,
  assumed = [],
  also,
}: Shape): void {
  const recording = recordingOf(log, options)
  expect(recording.forceUnit).toBe(unit)
  const perUnit = unit === null || unit === 'counts' ? 1 : N_PER[unit]
  expect(Array.from(recording.timeS, s => Number(s.toFixed(6)))).toEqual(time.map(s => Number(s.toFixed(6))))
  expect(Array.from(recording.forceN, n => Number((n / perUnit).toFixed(6)) + 0)).toEqual(
    force.map(v => Number(v.toFixed(6))),
  )
  expect(recording.assumptions.map(({ code }) => code)).toEqual(assumed)
  if (understood) expect(recording.understood).toMatch(understood)
  expect(recording.understood).not.toMatch(/\n/)
  also?.(recording)
}

describe('opens a log with', () => {
  test.each(shapes)('$title', check)
})

describe('takes the unit from', () => {
  for (const [word, unit] of units) {
    for (const header of [
      `Force [${word}]`,
      `force_${word}`,
      `Force (${word})`,
      `F in ${word}`,
      `load/${word}`,
      word,
    ]) {
      test(`“${header}”`, () =>
        check({ title: '', log: `time_s;${header}\n${rows(i => `${t(i)};${f(i)}`)}`, unit }))
    }
    test(`a cell “1.5 ${word}”`, () =>
      check({ title: '', log: `time_s;force\n${rows(i => `${t(i)};${f(i)} ${word}`)}`, unit }))
  }
})

/** Words of everyday technical language, from memory. */
const languages = [
  'Zeit;Kraft',
  'Temps;Force',
  'Tiempo;Fuerza',
  'Tempo;Forza',
  'Tempo;Força',
  'Tijd;Kracht',
  'Czas;Siła',
  'Čas;Síla',
  'Tid;Kraft',
  'Idő;Erő',
  'Время;Сила',
  'Время;Нагрузка',
  '时间;力',
  '時間;荷重',
  '时间;拉力',
  '時間;張力',
  '시간;하중',
  'Prüfzeit;Zugkraft',
  'Uhrzeit;Gewicht',
  'Zaman;Kuvvet',
  'Aika;Voima',
]
test.each(languages)('knows the header %s in either order', header => {
  const [time = '', force = ''] = header.split(';')
  check({ title: '', log: `${time};${force} [N];x\n${rows(i => `${t(i)};${f(i)};${f(i)}`)}` })
  check({ title: '', log: `${force} [N];${time}\n${rows(i => `${f(i)};${t(i)}`)}` })
})

test('bytes and text give the same', () => {
  expect(recordingOf(utf8(plain()))).toEqual(recordingOf(plain()))
})
