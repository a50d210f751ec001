import { expect, test } from 'vitest'
import { sortFiles } from '../../../src/web/import/sortFiles.ts'

const file = (name: string, ...parts: BlobPart[]) => new File(parts, name)
const log = file('paste-1.csv', 'time_s,force_N\n0,0\n0.1,1\n')

test('logs, a specimens table and a table with a fault are told apart', async () => {
  const found = await sortFiles([
    log,
    file('specimens.csv', 'file,variant,extra\npaste-1.csv,paste,x\n'),
    file('bad.csv', 'file,elements\npaste-1.csv,minus\n'),
  ])
  expect(found.logs.map(one => one.file.name)).toEqual(['paste-1.csv'])
  expect(
    found.tables.map(({ name, rows, problems, remarks }) => [
      name,
      rows.length,
      problems.length,
      remarks.length,
    ]),
  ).toEqual([
    ['specimens.csv', 1, 0, 1],
    ['bad.csv', 0, 1, 0],
  ])
})

test.each([
  ['broken.zip', [new Uint8Array([0x50, 0x4b, 3, 4])], 'zip'],
  ['datapackage.json', ['{"name":"x"}'], 'data package'],
  ['all.backup', ['{"document":"tenterhook.backup","version":1}'], 'backup'],
  ['all.jsonl.gz', [new Uint8Array([0x1f, 0x8b, 8])], 'gzip'],
  ['tenterhook.sqlite', ['SQLite format 3\0'], 'database'],
  ['break.jpg', [new Uint8Array([0xff, 0xd8, 0xff, 0xe0])], 'picture'],
  ['r.json', ['{"document":"tenterhook.reading","version":1}'], 'reading'],
] as [string, BlobPart[], string][])('%s is told, with what to do', async (name, parts, word) => {
  const { logs, strange } = await sortFiles([file(name, ...parts), log])
  expect(logs).toHaveLength(1)
  expect(strange[0]?.problem.what).toContain(word)
  expect(strange[0]?.problem.cure).not.toBe('')
})

test('a file that cannot be read holds up no other', async () => {
  const gone = file('gone.csv', 'x')
  gone.slice = () => {
    throw new DOMException('moved', 'NotFoundError')
  }
  const { logs, strange } = await sortFiles([gone, log])
  expect(logs).toHaveLength(1)
  expect(strange.map(({ name }) => name)).toEqual(['gone.csv'])
})
