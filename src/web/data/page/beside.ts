import { barePicture } from '../../../logs/index.ts'
import type { Photo } from '../../../server/apiTypes.ts'
import { sha256Hex } from '../../engine/sha256.ts'
import type { Backend } from '../backend.ts'
import { Trouble } from '../trouble.ts'
import { newId, notThere, nowIso, pageDb } from './db.ts'

/** What stands beside the recordings: rigs, calibrations, checks, notes, photos, settings. */

export const pageRigs: Backend['rigs'] = {
  list: async () => (await pageDb()).getAll('rigs'),
  async create({ name, document }) {
    const at = nowIso()
    const rig = { id: newId(), name, document, createdAt: at, updatedAt: at }
    await (await pageDb()).put('rigs', rig)
    return rig
  },
  async change(id, patch) {
    const db = await pageDb()
    const rig = await db.get('rigs', id)
    if (!rig) throw new Trouble([notThere('rig', id)])
    const changed = { ...rig, ...patch, updatedAt: nowIso() }
    await db.put('rigs', changed)
    return changed
  },
}

interface Dated {
  readonly madeAt: string
  readonly rigId: string | null
}

/** Newest first; of one rig where it is named. */
const newestFirst = <T extends Dated>(all: readonly T[], rigId: string | undefined): T[] =>
  all.filter(one => rigId === undefined || one.rigId === rigId).sort((a, b) => (a.madeAt < b.madeAt ? 1 : -1))

export const pageCalibrations: Backend['calibrations'] = {
  list: async rigId => newestFirst(await (await pageDb()).getAll('calibrations'), rigId),
  async keep(fields) {
    const kept = { ...fields, id: newId() }
    await (await pageDb()).put('calibrations', kept)
    return kept
  },
}

export const pageChecks: Backend['checks'] = {
  list: async rigId => newestFirst(await (await pageDb()).getAll('checks'), rigId),
  async keep(fields) {
    const kept = { ...fields, id: newId() }
    await (await pageDb()).put('checks', kept)
    return kept
  },
}

export const pageNotes: Backend['notes'] = {
  async list({ kind, id }) {
    const notes = await (await pageDb()).getAll('notes')
    return notes
      .filter(note => note.subject.kind === kind && note.subject.id === id)
      .sort((a, b) => (a.madeAt < b.madeAt ? -1 : 1))
  },
  async add({ subject, text, operator = '' }) {
    const note = { id: newId(), subject, text, operator, madeAt: nowIso() }
    await (await pageDb()).put('notes', note)
    return note
  },
  async remove(id) {
    await (await pageDb()).delete('notes', id)
  },
}

export const pagePhotos: Backend['photos'] = {
  async list({ kind, id }) {
    const photos = await (await pageDb()).getAll('photos')
    return photos
      .filter(photo => photo.subject.kind === kind && photo.subject.id === id)
      .sort((a, b) => (a.addedAt < b.addedAt ? -1 : 1))
  },
  async add(subject, name, bytes, caption = '') {
    const picture = barePicture(bytes)
    if (!picture)
      throw new Trouble([
        {
          where: name,
          what: 'it is not a whole JPEG, PNG or WebP.',
          cure: 'Take a photo, or save the picture as one of these.',
        },
      ])
    const photo: Photo = {
      id: newId(),
      subject,
      name,
      caption,
      mime: picture.mime,
      sha256: sha256Hex(picture.bytes),
      bytes: picture.bytes.length,
      addedAt: nowIso(),
    }
    const change = (await pageDb()).transaction(['photos', 'pictures'], 'readwrite')
    await change.objectStore('photos').put(photo)
    await change
      .objectStore('pictures')
      .put(new Blob([picture.bytes.slice()], { type: picture.mime }), photo.id)
    await change.done
    return photo
  },
  async content(id) {
    const picture = await (await pageDb()).get('pictures', id)
    if (!picture) throw new Trouble([notThere('photo', id)])
    return picture
  },
  async remove(id) {
    const change = (await pageDb()).transaction(['photos', 'pictures'], 'readwrite')
    await change.objectStore('photos').delete(id)
    await change.objectStore('pictures').delete(id)
    await change.done
  },
}

export const pageSettings: Backend['settings'] = {
  async all() {
    const db = await pageDb()
    const [names, values] = await Promise.all([db.getAllKeys('settings'), db.getAll('settings')])
    return Object.fromEntries(names.map((name, i) => [name, values[i]]))
  },
  async set(name, value) {
    const db = await pageDb()
    if (value === null) await db.delete('settings', name)
    else await db.put('settings', value, name)
  },
}
