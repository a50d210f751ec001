import { newNoteSchema, newPhotoQuerySchema, settingSchema, subjectQuerySchema } from '../requests.ts'
import { answer, bytesRoute, ok, PHOTO_BYTES, type Route, route } from '../route.ts'

export const noteRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/notes',
    summary: 'Notes on a study, variant, specimen, recording or rig',
    answers: 'StoredNote[]',
    query: subjectQuerySchema,
    run: async ({ bench, query }) => ok(await bench.store.notes.list(query)),
  }),
  route({
    method: 'POST',
    path: '/api/notes',
    summary: 'A new note',
    answers: 'StoredNote',
    body: newNoteSchema,
    run: async ({ bench, body }) =>
      answer(await bench.store.notes.add(body.subject, body.text, body.operator)),
  }),
  route({
    method: 'DELETE',
    path: '/api/notes/:id',
    summary: 'Removes a note',
    answers: 'null',
    run: async ({ bench, params }) => answer(await bench.store.notes.remove(params.id ?? ''), 404),
  }),
  route({
    method: 'GET',
    path: '/api/photos',
    summary: 'Photos of a study, variant, specimen, recording or rig',
    answers: 'Photo[]',
    query: subjectQuerySchema,
    run: async ({ bench, query }) => ok(await bench.store.photos.list(query)),
  }),
  bytesRoute({
    method: 'POST',
    path: '/api/photos',
    summary: 'Keeps a JPEG, PNG or WebP, without place, time and camera',
    answers: 'Photo',
    query: newPhotoQuerySchema,
    bytes: PHOTO_BYTES,
    run: async ({ bench, query: { kind, id, name, caption }, body }) =>
      answer(await bench.store.photos.add({ kind, id }, name, body, caption)),
  }),
  route({
    method: 'GET',
    path: '/api/photos/:id',
    summary: 'The picture itself',
    answers: 'a picture',
    async run({ bench, params }) {
      const loaded = await bench.store.photos.load(params.id ?? '')
      if (!loaded.ok) return answer(loaded, 404)
      return { status: 200, type: loaded.value.photo.mime, body: loaded.value.content }
    },
  }),
  route({
    method: 'DELETE',
    path: '/api/photos/:id',
    summary: 'Removes a photo',
    answers: 'null',
    run: async ({ bench, params }) => answer(await bench.store.photos.remove(params.id ?? ''), 404),
  }),
  route({
    method: 'GET',
    path: '/api/settings',
    summary: 'All settings, by name',
    answers: 'Settings',
    run: async ({ bench }) => ok(await bench.store.settings.all()),
  }),
  route({
    method: 'PUT',
    path: '/api/settings/:name',
    summary: 'Sets one; null takes it away',
    answers: 'null',
    body: settingSchema,
    run: async ({ bench, params, body: { value, basedOn } }) =>
      answer(await bench.store.settings.set((params.name ?? '').slice(0, 100), value, basedOn)),
  }),
]
