import { describe, expect, test } from 'vitest'
import { N_PER } from '../../../src/core/units/force.ts'
import {
  factoredForceUnitOf,
  isForeignForce,
  mmIn,
  multipleForceUnitOf,
  secondsIn,
  unitMeaning,
} from '../../../src/logs/words/units.ts'

// Factors by the SI brochure (BIPM, 9th edition): prefixes in table 7, minute and hour in table 8; dyne 10⁻⁵ N; the inch is
// 25.4 mm by the agreement of 1959.

const words = (text: string): string[] => text.split(' ')

describe('a unit of time is so many seconds', () => {
  test.each([
    [1, 's sec secs second seconds sekunde sekunden 秒 с сек'],
    [1e-3, 'ms msec msecs millis milli millisec millisecond milliseconds milisegundos millisecondes'],
    [1e-3, 'millisecondi millisekunden 毫秒 ミリ秒 мс'],
    [1e-6, 'us µs μs usec micros microsec microsecond microseconds microsegundos mikrosekunden 微秒 мкс'],
    [1e-9, 'ns'],
    [60, 'min mins minutes minute minuten minutos minuti мин 分 分钟'],
    [3600, 'h hr hrs hour hours std stunden heures horas ore 小时'],
  ])('%d s', (seconds, all) => {
    for (const word of words(all)) {
      expect(secondsIn(word), word).toBe(seconds)
      expect(unitMeaning(`[${word}]`), word).toEqual({ of: 'time', secondsIn: seconds })
    }
  })
})

describe('a unit of length is so many millimetres', () => {
  test.each([
    [1, 'mm millimeter millimetre millimeters millimetres мм 毫米'],
    [10, 'cm см'],
    [1000, 'm'],
    [1e-3, 'um µm μm'],
    [25.4, 'in inch inches "'],
    [0.0254, 'mil mils'],
  ])('%d mm', (mm, all) => {
    for (const word of words(all)) expect(mmIn(word), word).toBe(mm)
  })
})

describe('a multiple of a unit of force is so many newton', () => {
  test.each([
    [10, 'daN dan decanewton decanewtons'],
    [0.01, 'cN centinewton'],
    [100, 'hN'],
    [1e6, 'MN meganewton'],
    [1e-6, 'uN µN μN micronewton'],
    [1e-9, 'nN'],
    [1e-5, 'dyn dyne dynes'],
    [9.80665e-6, 'mgf mg'],
    [1, 'N н 牛 牛顿 ニュートン 뉴턴'],
    [1000, 'kN кн 千牛'],
    [1e-3, 'mN мн'],
    [9.80665, 'kgf kg кгс кг 公斤 千克'],
    [9.80665e-3, 'gf g гс г 克'],
  ])('%d N', (newton, all) => {
    for (const word of words(all)) {
      const { unit, times } = multipleForceUnitOf(word)!
      expect((times * N_PER[unit as keyof typeof N_PER]) / newton, word).toBeCloseTo(1, 12)
    }
  })
})

test('a factor counts only where a sign says that it is one', () => {
  for (const text of ['x10N', '10 x N', 'N*10', '×10 N', '[10·N]'])
    expect(factoredForceUnitOf(text), text).toEqual({ unit: 'N', times: 10 })
  expect(factoredForceUnitOf('2,5 x daN')).toEqual({ unit: 'N', times: 25 })
  for (const text of ['10 N', '100 kg', 'x0N', 'x10', 'N']) expect(factoredForceUnitOf(text), text).toBeNull()
})

test('what is no unit of force, time or length is none of these', () => {
  for (const word of ['V', 'mV/V', 'MPa', 'Hz', '%', '°C', 'N/mm'])
    expect(unitMeaning(word), word).toEqual({ of: 'other' })
  expect(unitMeaning('handle')).toBeNull()
  expect(isForeignForce('GN')).toBe(true)
  expect(isForeignForce('N')).toBe(false)
})
