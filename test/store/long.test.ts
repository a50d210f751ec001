import { readdir } from 'node:fs/promises'
import { expect, test } from 'vitest'
import type { Recording, RecordingInBlocks } from '../../src/core/recording.ts'
import { pretendRecording } from './pretendRecording.ts'
import { good, inFolder, openAt } from './stores.ts'

/** More than two chunks of the store, the last one not full. */
const SAMPLES = 140_000
const BLOCK = 131_072

/** The same recording held whole and in blocks; its last channel is made of the times. */
function bothWays(): { recording: Recording; inBlocks: RecordingInBlocks; log: Uint8Array } {
  const forces = Array.from({ length: SAMPLES }, (_, i) => ((i * 7_919) % 10_007) / 100)
  const { recording: plain, log } = pretendRecording('long', forces)
  const late = (timeS: Float64Array, from: number) => timeS.map((s, i) => (from + i < 70_000 ? s / 2 : NaN))
  const head = { name: 'turns', kind: 'travel', unit: 'turns' } as const
  const recording: Recording = {
    ...plain,
    channels: [...plain.channels, { ...head, values: late(plain.timeS, 0) }],
  }
  const { timeS, forceN, channels, name, forceUnit, sha256: _, ...rest } = plain
  const inBlocks: RecordingInBlocks = {
    name,
    forceUnit,
    channels: channels.map(({ values: _values, ...told }) => told),
    async *blocks() {
      for (let from = 0; from < SAMPLES; from += BLOCK) {
        const part = (values: Float64Array) => values.slice(from, from + BLOCK)
        yield { timeS: part(timeS), forceN: part(forceN), channels: channels.map(c => part(c.values)) }
      }
      return { ...rest, lateChannels: [{ ...head, valuesAt: late }] }
    },
  }
  return { recording, inBlocks, log }
}

async function* inPieces(log: Uint8Array) {
  for (let at = 0; at < log.length; at += 300_000) yield log.subarray(at, at + 300_000)
}

test('a recording that comes in blocks is kept as one that is held whole: every sample, the same hashes, nothing left behind', async () => {
  await inFolder(async folder => {
    const store = await openAt(folder)
    const { recording, inBlocks, log } = bothWays()
    const whole = good(await store.recordings.save({ recording, log, source: 'live', id: 'whole0000a' }))
    const added = { log: inPieces(log), source: 'live', id: 'inblocks0b', scratchFolder: folder } as const
    const long = good(await store.recordings.saveLong({ ...added, recording: inBlocks }))
    expect(long.isNew).toBe(true)
    const { id: _a, addedAt: _b, ...entry } = long.entry
    expect(whole.entry).toMatchObject(entry)
    expect(good(await store.recordings.load('inblocks0b'))).toEqual(
      good(await store.recordings.load('whole0000a')),
    )
    const kept: Uint8Array[] = []
    for await (const part of store.recordings.log('inblocks0b')) kept.push(part)
    expect(Buffer.concat(kept).equals(log)).toBe(true)
    expect((await store.care.verify()).findings).toEqual([])
    // Saved again under the same id it is there already, and its blocks are not even asked for.
    const again = good(await store.recordings.saveLong({ ...added, recording: inBlocks }))
    expect(again.isNew).toBe(false)
    expect((await readdir(folder)).filter(name => name.endsWith('.scratch'))).toEqual([])
    await store.close()
  })
})

test('what cannot be packed is told, and nothing of it is in the store', async () => {
  await inFolder(async folder => {
    const store = await openAt(folder)
    const { inBlocks, log } = bothWays()
    const saved = await store.recordings.saveLong({
      recording: inBlocks,
      log: inPieces(log),
      source: 'live',
      scratchFolder: `${folder}/not there`,
    })
    expect(saved).toMatchObject({ ok: false, problems: [{ what: 'its folder is not there.' }] })
    expect((await store.recordings.list()).items).toEqual([])
    await store.close()
  })
})
