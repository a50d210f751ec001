import { mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Recording } from '../src/core/recording.ts'
import { N_PER } from '../src/core/units/force.ts'
import { openStore, type Store, storePlace } from '../src/store/index.ts'

/**
 * The store: opening one of 20,000 recordings, listing and searching it (target: p95 under 50 ms), saving and reading
 * back a recording of 10 million samples. Run: `npm run bench store`; BENCH_RECORDINGS and BENCH_SAMPLES make it
 * shorter. The store lies in BENCH_FOLDER, else the system's temporary folder.
 */
const recordings = Number(process.env.BENCH_RECORDINGS ?? 20_000)
const samples = Number(process.env.BENCH_SAMPLES ?? 10_000_000)
const folder = mkdtempSync(join(process.env.BENCH_FOLDER ?? tmpdir(), 'tenterhook-store-'))

async function open(): Promise<Store> {
  const place = storePlace(folder, {})
  if (!place.ok) throw new Error('no place')
  return openStore(place.value)
}

/** As a cheap indicator gives it: hundredths of a kgf with some noise, times in ten thousandths of a second. */
function pull(name: string, n: number, seed: number): Recording {
  let state = seed + 1
  const noise = () => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0
    return state / 2 ** 32 - 0.5
  }
  const timeS = new Float64Array(n)
  const forceN = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    timeS[i] = (i * 125 + Math.round(8 * noise())) / 10_000
    forceN[i] = (Math.round(6000 * ((i % 5000) / 5000) + 6 * noise()) / 100) * N_PER.kgf
  }
  return {
    name,
    sha256: '',
    timeS,
    forceN,
    forceUnit: 'kgf',
    timeFrom: 'column',
    segments: [{ from: 0, to: n, began: 'start', name, sha256: '', shiftS: 0 }],
    channels: [],
    notes: [],
    assumptions: [],
    understood: 'time and force',
  }
}

const shown = (ms: number): string => `${ms.toFixed(1)} ms`
const p = (share: number, timesMs: readonly number[]): string =>
  shown([...timesMs].sort((a, b) => a - b)[Math.floor(share * (timesMs.length - 1))] ?? Number.NaN)

async function timed<T>(work: () => Promise<T>): Promise<{ ms: number; value: T }> {
  const begun = performance.now()
  const value = await work()
  return { ms: performance.now() - begun, value }
}

try {
  let store = await open()
  const text = new TextEncoder()
  const filling = await timed(async () => {
    for (let i = 0; i < recordings; i++) {
      const study = `Study ${i % 200}`
      const specimen = await store.specimens.named({
        study,
        variant: `variant ${i % 3}`,
        specimen: `piece ${i}`,
      })
      if (!specimen.ok) throw new Error('no specimen')
      const recording = pull(`log-${i}.csv`, 60, i)
      const saved = await store.recordings.save({
        recording,
        log: text.encode(`log ${i}\n${'0.1,2.3\n'.repeat(60)}`),
        source: 'live',
        specimenId: specimen.value.id,
      })
      if (!saved.ok) throw new Error('not saved')
    }
  })
  console.log(
    `${recordings} recordings saved: ${(filling.ms / 1000).toFixed(1)} s, ${shown(filling.ms / recordings)} each`,
  )
  await store.close()

  const opening: number[] = []
  for (let i = 0; i < 20; i++) {
    const opened = await timed(open)
    opening.push(opened.ms)
    await opened.value.close()
  }
  console.log(`store of ${recordings} opened: p50 ${p(0.5, opening)}, p95 ${p(0.95, opening)}`)

  store = await open()
  const kinds: Record<string, (i: number) => Promise<unknown>> = {
    'first page of all': () => store.recordings.list({}),
    'a page in the middle': async () => store.recordings.list({ after: middle }),
    'a search that finds many': i => store.recordings.list({ search: `piece ${i % 10}` }),
    'a search that finds one': i => store.recordings.list({ search: `"log-${i}.csv`.slice(1) }),
    'a search that finds none': i => store.recordings.list({ search: `nothing ${i}` }),
    'the specimens and readings of a study': async i => {
      const study = await store.studies.byName(`Study ${i % 200}`)
      await store.specimens.list(study?.id ?? '')
      await store.readings.latestOfStudy(study?.id ?? '')
    },
    'the recordings of a study': async i => {
      const study = await store.studies.byName(`Study ${i % 200}`)
      return store.recordings.list({ studyId: study?.id ?? '' })
    },
  }
  const halfway = (await store.recordings.list({ limit: Math.max(1, recordings >> 1) })).next
  const middle = halfway ?? ''
  for (const [kind, work] of Object.entries(kinds)) {
    const times: number[] = []
    for (let i = 0; i < 100; i++) times.push((await timed(() => work(i))).ms)
    console.log(`${kind}: p50 ${p(0.5, times)}, p95 ${p(0.95, times)}`)
  }

  const recording = pull('long.csv', samples, 7)
  const log = text.encode('time,force\n')
  const saving = await timed(() => store.recordings.save({ recording, log, source: 'live' }))
  if (!saving.value.ok) throw new Error('not saved')
  const { id } = saving.value.value.entry
  console.log(`${samples} samples saved: ${(saving.ms / 1000).toFixed(2)} s`)
  for (let i = 0; i < 3; i++) {
    const loading = await timed(() => store.recordings.load(id))
    const same =
      loading.value.ok &&
      Buffer.compare(Buffer.from(loading.value.value.forceN.buffer), Buffer.from(recording.forceN.buffer)) ===
        0
    console.log(
      `${samples} samples read back: ${(loading.ms / 1000).toFixed(2)} s, ${same ? 'the same bits' : 'NOT THE SAME'}`,
    )
  }
  await store.close()
  console.log(
    `store on disk: ${(statSync(join(folder, 'tenterhook.sqlite')).size / 1024 / 1024).toFixed(0)} MiB`,
  )
} finally {
  rmSync(folder, { recursive: true, force: true })
}
