import { expect, test } from 'vitest'
import { withChecksum } from '../../../src/capture/protocol.ts'
import { whole } from '../journaled.ts'
import { type Bench, noise, notes, recording } from './floodBench.ts'

async function finished({ session }: Bench) {
  const captured = whole(await session.finish())
  await session.close()
  return captured
}
const samples = (from: number, to: number): string =>
  Array.from({ length: to - from }, (_, i) => `${(from + i) * 10},${((from + i) % 50).toFixed(2)}\n`).join('')

test('a line that comes again and again is counted, not stored and told one by one; the samples are all there', async () => {
  const b = await recording()
  b.line.say('time_ms,force_N\n')
  b.line.say(samples(0, 100))
  for (let i = 0; i < 20; i++) b.line.say('sensor timeout, trying again\n'.repeat(1_000))
  b.line.say(samples(100, 200))
  const before = notes(b).filter(text => text.includes('timeout')).length
  expect(before).toBeLessThan(5)
  const { recording: kept, log } = await finished(b)
  expect(kept.timeS.length).toBe(200)
  const said = kept.notes.map(({ text }) => text).filter(text => text.includes('timeout'))
  expect(said).toEqual(['sensor timeout, trying again', 'sensor timeout, trying again × 20,000'])
  expect(log.length).toBeLessThan(20_000)
})

test('lines that are all different: the first are kept, the others are counted', async () => {
  const b = await recording()
  b.line.say('time_ms,force_N\n')
  b.line.say(samples(0, 20))
  for (let i = 0; i < 30_000; i++) b.line.say(`warning: retry ${i} of the bridge\n`)
  b.line.say(samples(20, 40))
  const { recording: kept } = await finished(b)
  expect(kept.timeS.length).toBe(40)
  expect(kept.notes.length).toBeLessThan(600)
  expect(kept.notes.at(-1)?.text).toBe('29,501 more lines that hold no sample')
})

test('a greeting said over and over begins one new part, not one each', async () => {
  const b = await recording()
  b.line.say('time_ms,force_N\n')
  b.line.say(samples(0, 50))
  b.line.say(`${withChecksum('tenterhook 1 unit=N tick=0.001')}\n`.repeat(5_000))
  const { troubles, recording: kept, log } = await finished(b)
  expect(kept.timeS.length).toBe(50)
  expect(troubles.resets).toBeLessThanOrEqual(1)
  expect(log.length).toBeLessThan(20_000)
})

test('4 MB of noise make no sample and no event: only the question whether the speed is wrong', async () => {
  const b = await recording()
  for (let i = 0; i < 4; i++) {
    b.line.say(noise(2 ** 20, 4_711 + i))
    await new Promise(resolve => setTimeout(resolve, 10))
  }
  await expect
    .poll(() => b.session.snapshot().alarms.map(({ what }) => what))
    .toEqual(['this does not look like numbers: wrong speed?'])
  expect(b.told.filter(({ kind }) => kind === 'samples' || kind === 'event')).toEqual([])
  expect(notes(b).length).toBeLessThan(30)
  expect((await b.session.finish()).ok).toBe(false)
  await b.session.close()
})

test('noise in the middle makes no sample; every one before and after it is there, with its time of arrival', async () => {
  for (let seed = 1; seed <= 20; seed++) {
    const b = await recording()
    b.line.say('time_ms,force_N\n')
    b.line.say(samples(0, 300))
    b.line.say(noise(3_000 + 997 * seed, seed))
    b.line.say('\n')
    b.line.say(samples(300, 600))
    const { recording: kept } = await finished(b)
    expect([...kept.forceN], `seed ${seed}`).toEqual(Array.from({ length: 600 }, (_, i) => i % 50))
  }
})

test('text in another alphabet is no noise', async () => {
  const b = await recording()
  b.line.say('время_мс;сила_Н\n')
  b.line.say('датчик готов, начинаем измерение\n')
  b.line.say(samples(0, 100).replaceAll(',', ';'))
  expect((await finished(b)).recording.timeS.length).toBe(100)
})
