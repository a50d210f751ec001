import { expect, test } from 'vitest'
import { jpeg, png } from '../logs/picture/pictures.ts'
import { bad, ENGINES, good, inStore } from './stores.ts'

const text = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1')

test.each(ENGINES)('photos in the store on $name', engine =>
  inStore(engine, async store => {
    const specimen = good(await store.specimens.named({ study: 'S', variant: null, specimen: 's' }))
    const subject = { kind: 'specimen', id: specimen.id } as const
    const photo = good(await store.photos.add(subject, 'break.jpg', jpeg(), 'how it tore'))
    expect(await store.photos.list(subject)).toEqual([photo])
    const { content } = good(await store.photos.load(photo.id))
    expect(content.length).toBe(photo.bytes)
    expect(text(content)).not.toContain('GPS')
    expect(bad(await store.photos.add(subject, 'page.html', Buffer.from('<html>')))).toContain(
      'not a whole JPEG',
    )
    expect(bad(await store.photos.add({ kind: 'study', id: 'gone' }, 'x.png', png()))).toContain(
      'no such study',
    )
    good(await store.photos.remove(photo.id))
    expect(await store.photos.list(subject)).toEqual([])
  }),
)
