import { fine, type Outcome } from '../../core/problem.ts'
import type { PublishedPhoto, Remark } from '../../publish/study/study.ts'
import type { Store, Subject } from '../../store/index.ts'
import { sha256 } from '../hash.ts'

/** Notes on a subject that it does not have yet. */
export async function importNotes(
  store: Store,
  subject: Subject,
  remarks: readonly Remark[],
): Promise<Outcome<null>> {
  const there = await store.notes.list(subject)
  for (const { text, operator, at } of remarks) {
    if (there.some(note => note.text === text && note.operator === operator)) continue
    const added = await store.notes.add(subject, text, operator, at ?? undefined)
    if (!added.ok) return added
  }
  return fine(null)
}

/** Photos of a subject that it does not have yet. */
export async function importPhotos(
  store: Store,
  subject: Subject,
  photos: readonly PublishedPhoto[],
): Promise<Outcome<null>> {
  const there = new Set((await store.photos.list(subject)).map(photo => photo.sha256))
  for (const { name, caption, bytes } of photos) {
    const content = await bytes()
    if (there.has(await sha256(content))) continue
    const added = await store.photos.add(subject, name, content, caption)
    if (!added.ok) return added
  }
  return fine(null)
}
