import { type ChangeEvent, useEffect, useId, useState } from 'react'
import type { Photo, Specimen } from '../../../server/apiTypes.ts'
import { useBench } from '../../app/context.tsx'
import { useFoot } from '../../app/undo.tsx'
import { useChange, usePhotos } from '../../data/queries.ts'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'

const words = texts.read.photos

interface NewPicture {
  readonly name: string
  readonly bytes: Uint8Array<ArrayBuffer>
  readonly caption: string
}

/** Pictures of the failure, from a file or the camera. What is removed can be brought back. */
export function Photos({ specimen }: { specimen: Specimen }) {
  const id = useId()
  const foot = useFoot()
  const { backend } = useBench()
  const subject = { kind: 'specimen', id: specimen.id } as const
  const { data: photos, error } = usePhotos(subject)
  const adding = useChange<NewPicture, Photo>((to, { name, bytes, caption }) =>
    to.photos.add(subject, name, bytes, caption),
  )
  const removing = useChange<Photo, NewPicture>(async (from, { id, name, caption }) => {
    const bytes = new Uint8Array(await (await from.photos.content(id)).arrayBuffer())
    await from.photos.remove(id)
    return { name, caption, bytes }
  })
  const choose = async ({ target }: ChangeEvent<HTMLInputElement>) => {
    const files = [...(target.files ?? [])]
    for (const file of files)
      await adding
        .mutateAsync({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()), caption: '' })
        // Shown below; the other pictures go on.
        .catch(() => {})
    target.value = ''
  }
  const remove = (photo: Photo) =>
    removing.mutate(photo, {
      onSuccess: picture => foot.did(words.removed, () => adding.mutateAsync(picture)),
    })
  return (
    <section aria-labelledby={`${id}h`}>
      <h3 id={`${id}h`}>{words.heading}</h3>
      <Problems error={error ?? adding.error ?? removing.error} />
      {photos?.length === 0 && <p className="pencil">{words.none}</p>}
      <ul className="plain-list read-photos">
        {photos?.map(photo => (
          <li key={photo.id}>
            <Picture
              photo={photo}
              alt={words.alt(photo.caption, specimen.name)}
              content={backend.photos.content}
            />
            <button
              type="button"
              className="button-plain read-quiet"
              aria-label={words.removePhoto(photo.name)}
              onClick={() => remove(photo)}
            >
              {words.remove}
            </button>
          </li>
        ))}
      </ul>
      <label className="button read-file">
        {adding.isPending ? words.adding : words.add}
        <input
          type="file"
          accept="image/jpeg,image/png,image/webp"
          capture="environment"
          multiple
          className="hidden-words"
          onChange={choose}
        />
      </label>
    </section>
  )
}

/** A picture from wherever the studies are kept. */
function Picture({
  photo,
  alt,
  content,
}: {
  photo: Photo
  alt: string
  content: (id: string) => Promise<Blob>
}) {
  const [address, setAddress] = useState<string | null>(null)
  const [error, setError] = useState<unknown>(null)
  const { id } = photo
  useEffect(() => {
    let made: string | null = null
    let isOver = false
    content(id).then(blob => {
      if (isOver) return
      made = URL.createObjectURL(blob)
      setAddress(made)
    }, setError)
    return () => {
      isOver = true
      if (made !== null) URL.revokeObjectURL(made)
    }
  }, [content, id])
  if (error) return <Problems error={error} />
  return address === null ? null : <img src={address} alt={alt} />
}
