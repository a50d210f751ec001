import { expect, test } from 'vitest'
import { openLog } from '../../src/logs/index.ts'
import { lines, problemsOf, recordingOf, utf8 } from './support.ts'

/** Lines that make a careless reader crawl: each is put among good rows and alone. */
const long = [
  ' ',
  '"',
  ',',
  '1',
  '[',
  '(',
  '1:00',
  'a=',
  'a=1 ',
  '12:00:00 ',
  '-> ',
  '1 ',
  "1'",
  '{"a":',
  '\\',
  '\t',
  '# ',
  'é',
  '[1:00',
  '",',
].map(piece => piece.repeat(Math.ceil(200_000 / piece.length)))

test.each(long.map(line => [line.slice(0, 8), line]))('a line of 200 000 characters of %j', (_, line) => {
  const good = `time_s,force_N\n${lines(20, i => `${i / 10},${i}`)}`
  const began = performance.now()
  const among = recordingOf(`${good}${line}\n${lines(20, i => `${2 + i / 10},${i}`)}`)
  expect(among.timeS.length).toBeGreaterThanOrEqual(39)
  problemsOf(`${line}\n`)
  problemsOf(`1,2\n${line}\n`.repeat(2))
  // A guard against hanging: reading alone takes far less.
  expect(performance.now() - began).toBeLessThan(8_000)
})

test('a file without a line end is a problem, not an endless line', () => {
  const log = openLog('log.csv')
  const piece = utf8('1.25 '.repeat(20_000))
  for (let i = 0; i < 40; i++) log.push(piece)
  expect(log.finish().ok).toBe(false)
})
