import { parquetMetadata, parquetReadObjects } from 'hyparquet'
import { describe, expect, test } from 'vitest'
import type { Recording } from '../../../src/core/recording.ts'
import { writeCsv, writeJsonLines, writeParquet } from '../../../src/logs/index.ts'
import { lines, recordingOf } from '../support.ts'

const recording = {
  ...recordingOf(
    `time_s,force_lbf,"travel, total (in)",temp_C\n${lines(5000, i => `${i / 80},${Math.sin(i / 900) + i / 7},${i % 5 === 0 ? '' : i / 3},21`)}`,
  ),
  sha256: 'ab12',
}

describe('a written recording reads back the same', () => {
  test.each([
    ['CSV', writeCsv(recording), {}],
    ['CSV with decimal commas', writeCsv(recording, { decimal: 'comma' }), {}],
    ['CSV with tabs', writeCsv(recording, { delimiter: '\t' }), {}],
    ['JSON Lines', writeJsonLines(recording), {}],
  ])('%s', (_, pieces, options) => {
    const back = recordingOf([...pieces].join(''), options)
    expect(back.timeS).toEqual(recording.timeS)
    expect(back.forceN).toEqual(recording.forceN)
    expect(back.forceUnit).toBe('N')
    // JSON Lines name a column when its first value comes, so the order may differ.
    const byName = (r: Recording) =>
      [...r.channels].sort((a, b) => a.kind.localeCompare(b.kind)).map(c => [c.kind, c.values])
    expect(byName(back)).toEqual(byName(recording))
  })

  test('CSV in another unit', () => {
    const text = [...writeCsv(recording, { unit: 'kgf' })].join('')
    expect(text.split('\n')[0]).toBe('time_s,force_kgf,"travel, total_mm",temp_C')
    const back = recordingOf(text)
    expect(back.forceUnit).toBe('kgf')
    for (let i = 0; i < 5000; i += 97) expect(back.forceN[i]).toBeCloseTo(recording.forceN[i]!, 9)
  })

  test('Parquet, with what was understood in its metadata', async () => {
    const bytes = await writeParquet(recording)
    const file = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length) as ArrayBuffer
    const rows = (await parquetReadObjects({ file })) as Record<string, number>[]
    expect(rows.map(row => row.time_s)).toEqual(Array.from(recording.timeS))
    expect(rows.map(row => row.force_N)).toEqual(Array.from(recording.forceN))
    const pairs = parquetMetadata(file).key_value_metadata?.map(({ key, value }) => [key, value])
    expect(pairs).toContainEqual(['tenterhook.sha256', 'ab12'])
    expect(pairs).toContainEqual(['tenterhook.understood', recording.understood])
  })
})

test('raw counts are written as counts', () => {
  const counts = recordingOf(`ms,raw\n${lines(20, i => `${i * 12},${84_000 + i}`)}`)
  expect([...writeCsv(counts)].join('').split('\n').slice(0, 2)).toEqual(['time_s,force_counts', '0,84000'])
})

test('a decimal comma cannot go with the comma as delimiter', () => {
  expect(() => [...writeCsv(recording, { decimal: 'comma', delimiter: ',' })]).toThrow(/another delimiter/)
})
