import { describe, expect, test } from 'vitest'
import { readSpecimensTable } from '../../../src/logs/index.ts'
import { specimensTableSchema } from '../../../src/logs/specimens/document.ts'
import { utf8 } from '../support.ts'

const problems = (text: string): string[] => {
  const table = readSpecimensTable(utf8(text), 's.csv')
  return table.ok ? [] : table.problems.map(p => `${p.where}: ${p.what} ${p.cure}`)
}

describe('readSpecimensTable', () => {
  test('reads every column, whatever the order and the decimal mark', () => {
    const table = readSpecimensTable(
      utf8(
        'Note;file;Variant;specimen;elements;width (mm);Thickness mm;length_mm;mode\nwet;a.csv;paste;P1;8;12,5;0,3;100;peel\n;b.csv;;;;;;;\n',
      ),
      's.csv',
    )
    if (!table.ok) throw new Error(table.problems[0]?.what)
    expect(table.value).toEqual([
      {
        line: 2,
        file: 'a.csv',
        specimen: 'P1',
        variant: 'paste',
        elements: 8,
        widthMm: 12.5,
        thicknessMm: 0.3,
        lengthMm: 100,
        mode: 'peel',
        note: 'wet',
      },
      {
        line: 3,
        file: 'b.csv',
        specimen: null,
        variant: null,
        elements: null,
        widthMm: null,
        thicknessMm: null,
        lengthMm: null,
        mode: null,
        note: null,
      },
    ])
    expect(specimensTableSchema.parse(table.value)).toEqual(table.value)
  })

  test('tells an unknown column and goes on', () => {
    const told: string[] = []
    const table = readSpecimensTable(utf8('file,colour\na.csv,red\n'), 's.csv', text => told.push(text))
    expect(table.ok).toBe(true)
    expect(told.join()).toMatch(/column “colour” is not one of file, specimen/)
  })

  test('names every bad cell at once, with its line and field', () => {
    expect(problems('file,elements,width_mm\na.csv,2.5,10\n,3,10\nb.csv,4,wide\na.csv,4,-1\n')).toEqual([
      expect.stringMatching(/^s\.csv, line 2, elements: “2\.5” is not a whole number above 0/),
      expect.stringMatching(/^s\.csv, line 3, file: the row names no file/),
      expect.stringMatching(/^s\.csv, line 4, width_mm: “wide” is not a number above 0/),
      expect.stringMatching(/^s\.csv, line 5, width_mm: “-1”/),
      expect.stringMatching(/^s\.csv, line 5, file: “a\.csv” stands in line 2 already/),
    ])
  })

  test('needs the column file', () =>
    expect(problems('log,elements\na,1\n')[0]).toMatch(/no column “file”, only “log”, “elements”/))
})
