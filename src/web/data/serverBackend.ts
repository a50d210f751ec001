import { recordingFromBlock } from '../../logs/index.ts'
import type {
  DailyCheck,
  Edit,
  Edited,
  Page,
  Photo,
  RecordingEntry,
  Rig,
  Specimen,
  StoredCalibration,
  StoredNote,
  StoredReading,
  Study,
  Variant,
} from '../../server/apiTypes.ts'
import type { Backend, OpenStudy } from './backend.ts'
import { ask, askBlob, askBytes, askJson } from './http.ts'
import { madeFile } from './madeFile.ts'
import { got, Trouble } from './trouble.ts'

/** Studies in the store of the server that this page came from. */
export const serverBackend: Backend = {
  kind: 'server',
  about: () => askJson('/api/about'),
  studies: {
    list: () => askJson<Study[]>('/api/studies'),
    async open(id) {
      const [open, recordings] = await Promise.all([
        askJson<Omit<OpenStudy, 'recordings'>>(`/api/studies/${id}`),
        allRecordings(id),
      ])
      return { ...open, recordings }
    },
    create: fields => askJson<Study>('/api/studies', { method: 'POST', body: fields }),
    change: (id, patch) => askJson<Study>(`/api/studies/${id}`, { method: 'PATCH', body: patch }),
    remove: id => askJson(`/api/studies/${id}`, { method: 'DELETE' }),
  },
  variants: {
    create: (studyId, fields) =>
      askJson<Variant>(`/api/studies/${studyId}/variants`, { method: 'POST', body: fields }),
    change: (id, patch) => askJson<Variant>(`/api/variants/${id}`, { method: 'PATCH', body: patch }),
    remove: id => askJson(`/api/variants/${id}`, { method: 'DELETE' }),
  },
  specimens: {
    create: (studyId, fields) =>
      askJson<Specimen>(`/api/studies/${studyId}/specimens`, { method: 'POST', body: fields }),
    change: (id, patch, who) =>
      askJson<Specimen>(`/api/specimens/${id}`, { method: 'PATCH', body: { ...patch, who } }),
    remove: id => askJson(`/api/specimens/${id}`, { method: 'DELETE' }),
  },
  edits: {
    list: studyId => askJson<Edit[]>(`/api/studies/${studyId}/edits`),
    removed: studyId => askJson<Specimen[]>(`/api/studies/${studyId}/removed-specimens`),
    apply: (studyId, steps, by) =>
      askJson<Edited>(`/api/studies/${studyId}/edits`, { method: 'POST', body: { steps, ...by } }),
    turn: (studyId, id, way) =>
      askJson<Edited>(`/api/studies/${studyId}/edits/${id}/${way === 'back' ? 'take-back' : 'do-again'}`, {
        method: 'POST',
      }),
  },
  recordings: {
    list: query => askJson<Page<RecordingEntry>>('/api/recordings', { query: { ...query } }),
    async bySha256(sha256) {
      const { items } = await askJson<Page<RecordingEntry>>('/api/recordings', {
        query: { search: sha256, withSetAside: true, limit: 1 },
      })
      return items[0] ?? null
    },
    async keep({ name, bytes, options, specimenId, rigId, calibration, startedAt }) {
      const query = { name, ...options, specimenId, rigId, calibration, startedAt }
      const kept = await askJson<Awaited<ReturnType<Backend['recordings']['keep']>>>('/api/recordings', {
        method: 'POST',
        query,
        bytes,
      })
      return { entry: kept.entry, isNew: kept.isNew }
    },
    samples: async id => got(recordingFromBlock(await askBytes(`/api/recordings/${id}/samples`))),
    log: async id => new Uint8Array(await askBytes(`/api/recordings/${id}/export`, { query: { as: 'log' } })),
    place: (id, specimenId, place) =>
      askJson(`/api/recordings/${id}/place`, { method: 'PUT', body: { specimenId, place } }),
    setAside: (id, why) => askJson(`/api/recordings/${id}/set-aside`, { method: 'POST', body: { why } }),
    takeBack: id => askJson(`/api/recordings/${id}/take-back`, { method: 'POST' }),
  },
  readings: {
    async history(specimenId) {
      const { readings } = await askJson<{ readings: StoredReading[] }>(`/api/specimens/${specimenId}`)
      return readings
    },
    keep: (specimenId, adjustments, basedOn) =>
      askJson<StoredReading>(`/api/specimens/${specimenId}/reading`, {
        method: 'POST',
        body: { adjustments, basedOn },
      }),
  },
  rigs: {
    list: () => askJson<Rig[]>('/api/rigs'),
    create: fields => askJson<Rig>('/api/rigs', { method: 'POST', body: fields }),
    change: (id, patch) => askJson<Rig>(`/api/rigs/${id}`, { method: 'PATCH', body: patch }),
  },
  calibrations: {
    list: rigId => askJson<StoredCalibration[]>('/api/calibrations', { query: { rigId } }),
    keep: fields => askJson<StoredCalibration>('/api/calibrations', { method: 'POST', body: fields }),
  },
  checks: {
    list: rigId => askJson<DailyCheck[]>('/api/checks', { query: { rigId } }),
    keep: fields => askJson<DailyCheck>('/api/checks', { method: 'POST', body: fields }),
  },
  notes: {
    list: subject => askJson<StoredNote[]>('/api/notes', { query: { ...subject } }),
    add: note => askJson<StoredNote>('/api/notes', { method: 'POST', body: note }),
    remove: id => askJson(`/api/notes/${id}`, { method: 'DELETE' }),
  },
  photos: {
    list: subject => askJson<Photo[]>('/api/photos', { query: { ...subject } }),
    add: (subject, name, bytes, caption = '') =>
      askJson<Photo>('/api/photos', { method: 'POST', query: { ...subject, name, caption }, bytes }),
    content: id => askBlob(`/api/photos/${id}`),
    remove: id => askJson(`/api/photos/${id}`, { method: 'DELETE' }),
  },
  maker: {
    pdf: (studyId, { initials }, signal) =>
      askBlob(`/api/studies/${studyId}/report`, { query: { as: 'pdf', initials }, signal }),
    dataPackage: (studyId, asked, signal) =>
      askBlob(`/api/studies/${studyId}/package`, { query: { ...asked }, signal }),
    hasQuickTime: async () => (await askJson<{ quickTime: boolean }>('/api/clips')).quickTime,
    quickTime: async (studyId, body, { signal, onProgress }) =>
      madeFile(await ask(`/api/studies/${studyId}/overlay`, { method: 'POST', body, signal }), {
        type: 'video/quicktime',
        onProgress,
      }),
  },
  whole: {
    save: () => askBlob('/api/archive'),
    savedAt: null,
    async take(file) {
      if (file.size > MOST_ARCHIVE_BYTES) throw new Trouble([tooLarge(file.name)])
      const bytes = new Uint8Array(await file.arrayBuffer())
      return askJson('/api/archive', { method: 'POST', query: { name: file.name }, bytes })
    },
  },
  settings: {
    all: () => askJson('/api/settings'),
    set: (name, value, basedOn) =>
      askJson(`/api/settings/${name}`, { method: 'PUT', body: { value, basedOn } }),
  },
}

/** What the server takes as one body; a greater file is not sent in vain. */
const MOST_ARCHIVE_BYTES = 256 * 1024 * 1024

const tooLarge = (name: string) => ({
  where: name,
  what: 'it is larger than a page may send.',
  cure: `Take it in from a terminal on the computer of the server: tenterhook import --all ${name}`,
})

/** The recordings of a study, page after page, in the order of their places. */
async function allRecordings(studyId: string): Promise<RecordingEntry[]> {
  const all: RecordingEntry[] = []
  let after: string | null = null
  do {
    const page: Page<RecordingEntry> = await askJson<Page<RecordingEntry>>('/api/recordings', {
      query: { studyId, withSetAside: true, limit: 1000, after },
    })
    all.push(...page.items)
    after = page.next
  } while (after !== null)
  return all.sort((a, b) => a.place - b.place)
}
