import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { DatabaseSync } from '@photostructure/sqlite'
import { expect, test } from 'vitest'
import type { Recording, RecordingInBlocks } from '../../src/core/recording.ts'
import { writeCsv, writeCsvInBlocks, writeJsonLines, writeJsonLinesInBlocks } from '../../src/logs/index.ts'
import { StoreFault } from '../../src/store/index.ts'
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

test('a long recording is written as text block by block, letter for letter as one that is held whole', async () => {
  await inFolder(async folder => {
    const store = await openAt(folder)
    const { recording, log } = bothWays()
    good(await store.recordings.save({ recording, log, source: 'live', id: 'whole0000a' }))
    const { head, samples, blocks } = good(await store.recordings.inChunks('whole0000a'))
    expect(samples).toBe(SAMPLES)
    const { timeS: _t, forceN: _f, channels, sha256: _s, segments: _g, ...rest } = recording
    expect(head).toMatchObject({ ...rest, channels: channels.map(({ values: _v, ...told }) => told) })
    const joinedText = async (pieces: AsyncIterable<string>) => {
      let text = ''
      for await (const piece of pieces) text += piece
      return text
    }
    expect(await joinedText(writeCsvInBlocks(head, blocks()))).toBe([...writeCsv(recording)].join(''))
    expect(await joinedText(writeJsonLinesInBlocks(head, blocks()))).toBe(
      [...writeJsonLines(recording)].join(''),
    )
    await store.close()
  })
})

test('every damaged chunk of a long recording is told, and the sound ones between them are looked at', async () => {
  await inFolder(async folder => {
    const store = await openAt(folder)
    const { recording, log } = bothWays()
    good(await store.recordings.save({ recording, log, source: 'live', id: 'whole0000a' }))
    await store.close()
    const raw = new DatabaseSync(join(folder, 'tenterhook.sqlite'))
    for (const { name } of raw.prepare("select name from sqlite_master where type = 'trigger'").all() as {
      name: string
    }[])
      raw.exec(`drop trigger ${name}`)
    raw.exec("update recording_samples set packed = x'00' where series = 0 and chunk = 0")
    raw.exec('delete from recording_samples where series = 1 and chunk = 1')
    raw.exec('update recording_samples set crc32 = crc32 + 1 where series = 2 and chunk = 2')
    raw.close()
    const again = await openAt(folder)
    const { findings } = await again.care.verify()
    expect(findings.map(({ what }) => /(time|force|channel 1): chunk \d/.exec(what)?.[0])).toEqual([
      'time: chunk 0',
      'force: chunk 1',
      'channel 1: chunk 2',
    ])
    const { blocks } = good(await again.recordings.inChunks('whole0000a'))
    await expect(blocks()[Symbol.asyncIterator]().next()).rejects.toThrow(StoreFault)
    await again.close()
  })
})
