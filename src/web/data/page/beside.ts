import { barePicture } from '../../../logs/index.ts'
import type { Photo, StoredNote } from '../../../server/apiTypes.ts'
import { sha256Hex } from '../../engine/sha256.ts'
import type { Backend, Subject } from '../backend.ts'
import { Trouble } from '../trouble.ts'
import { found, laterThan, newId, nowIso, pageDb, writing } from './db.ts'
import { changedSince, textFrom } from './rules.ts'

/** What stands beside the recordings: notes, photos, settings. */

const STORE_OF = {
  study: 'studies',
  variant: 'variants',
  specimen: 'specimens',
  recording: 'recordings',
  rig: 'rigs',
} as const
const SUBJECTS = Object.values(STORE_OF)

const isOn =
  ({ kind, id }: Subject) =>
  ({ subject }: { readonly subject: Subject }): boolean =>
    subject.kind === kind && subject.id === id

const lastOf = (times: readonly string[]): string | undefined => [...times].sort().at(-1)

export const pageNotes: Backend['notes'] = {
  async list(subject) {
    const notes = (await (await pageDb()).getAll('notes')).filter(isOn(subject))
    return notes.sort((a, b) => (a.madeAt < b.madeAt ? -1 : 1))
  },
  add: ({ subject, text, operator = '' }) =>
    writing(['notes', ...SUBJECTS], async change => {
      const { kind, id } = subject
      found(await change.objectStore(STORE_OF[kind]).get(id), kind, id)
      const notes = change.objectStore('notes')
      const others = (await notes.getAll()).filter(isOn(subject))
      const note: StoredNote = {
        id: newId(),
        subject,
        text: textFrom('note', text),
        operator,
        madeAt: laterThan(lastOf(others.map(({ madeAt }) => madeAt))),
      }
      await notes.add(note)
      return note
    }),
  remove: id =>
    writing(['notes'], async change => {
      found(await change.objectStore('notes').getKey(id), 'note', id)
      await change.objectStore('notes').delete(id)
    }),
}

export const pagePhotos: Backend['photos'] = {
  async list(subject) {
    const photos = (await (await pageDb()).getAll('photos')).filter(isOn(subject))
    return photos.sort((a, b) => (a.addedAt < b.addedAt ? -1 : 1))
  },
  async add(subject, name, bytes, caption = '') {
    const picture = barePicture(bytes)
    if (!picture)
      throw new Trouble([
        {
          where: name,
          what: 'it is not a whole JPEG, PNG or WebP picture.',
          cure: 'Save it as one of these and add it again.',
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
    const content = new Blob([picture.bytes.slice()], { type: picture.mime })
    return writing(['photos', 'pictures', ...SUBJECTS], async change => {
      const { kind, id } = subject
      found(await change.objectStore(STORE_OF[kind]).get(id), kind, id)
      await change.objectStore('photos').add(photo)
      await change.objectStore('pictures').add(content, photo.id)
      return photo
    })
  },
  content: async id => found(await (await pageDb()).get('pictures', id), 'photo', id),
  remove: id =>
    writing(['photos', 'pictures'], async change => {
      found(await change.objectStore('photos').getKey(id), 'photo', id)
      await change.objectStore('photos').delete(id)
      await change.objectStore('pictures').delete(id)
    }),
}

export const pageSettings: Backend['settings'] = {
  async all() {
    const db = await pageDb()
    const [names, values] = await Promise.all([db.getAllKeys('settings'), db.getAll('settings')])
    return Object.fromEntries(names.map((name, i) => [name, values[i]]))
  },
  set: (name, value, basedOn) =>
    writing(['settings'], async change => {
      const settings = change.objectStore('settings')
      if (
        basedOn !== undefined &&
        JSON.stringify(basedOn) !== JSON.stringify((await settings.get(name)) ?? null)
      )
        throw changedSince(`setting “${name}”`)
      if (value === null) await settings.delete(name)
      else await settings.put(value, name)
    }),
}
