// A program of its own (built and started by processes.test.ts): saves recordings into a store until it has
// made so many, telling each one that was acknowledged.
import { pretendRecording } from './pretendRecording.ts'
import { good, openAt } from './stores.ts'

const [folder = '', who = '', count = '10', samples = '50'] = process.argv.slice(2)
const store = await openAt(folder)
for (let i = 0; i < Number(count); i++) {
  const forces = Array.from({ length: Number(samples) }, (_, k) => ((k * (i + 3)) % 997) / 10)
  const { entry } = good(
    await store.recordings.save({ ...pretendRecording(`${who}-${i}`, forces), source: 'live' }),
  )
  process.stdout.write(`${entry.id}\n`)
}
await store.close()
