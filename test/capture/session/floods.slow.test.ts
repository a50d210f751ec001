import { expect, test } from 'vitest'
import { whole } from '../journaled.ts'
import { noise, notes, recording } from './floodBench.ts'

/** Floods of the size that chattering devices and wrong speeds have made. */

test('20 MB of noise make no sample and no event: only the question whether the speed is wrong', async () => {
  const b = await recording()
  for (let i = 0; i < 20; i++) {
    b.line.say(noise(2 ** 20, 90_001 + i))
    await new Promise(resolve => setTimeout(resolve, 5))
  }
  await expect
    .poll(() => b.session.snapshot().alarms.map(({ what }) => what))
    .toEqual(['this does not look like numbers: wrong speed?'])
  expect(b.told.filter(({ kind }) => kind === 'samples' || kind === 'event')).toEqual([])
  expect(notes(b).length).toBeLessThan(30)
  const [journal] = await b.files.list('/j')
  expect((await b.files.read(`/j/${journal}`)).length).toBeLessThan(100_000)
  expect((await b.session.finish()).ok).toBe(false)
  await b.session.close()
})

test('a line that a device repeats 74,311 times is one line with its count', async () => {
  const b = await recording()
  b.line.say('time_ms,force_N\n0,1.5\n')
  const line = 'HX711 not found, retrying\n'
  for (let sent = 0; sent < 74_311; sent += 1_000) {
    b.line.say(line.repeat(Math.min(1_000, 74_311 - sent)))
    if (sent % 50_000 === 0) await new Promise(resolve => setTimeout(resolve, 1))
  }
  b.line.say('10,2.5\n')
  const { recording: kept, log } = whole(await b.session.finish())
  await b.session.close()
  expect([...kept.forceN]).toEqual([1.5, 2.5])
  expect(kept.notes.map(({ text }) => text).filter(text => text.includes('HX711'))).toEqual([
    'HX711 not found, retrying',
    'HX711 not found, retrying × 74,311',
  ])
  expect(log.length).toBeLessThan(20_000)
})
