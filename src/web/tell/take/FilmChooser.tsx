import { type DragEvent, useRef, useState } from 'react'
import { meanRateHz } from '../../../publish/clip/frameTimes.ts'
import { texts } from '../../texts/index.ts'
import { useTasks } from '../task.tsx'
import type { Film } from './film.ts'

const t = texts.tell

/** Takes a film, or its sound: chosen, or dropped here and not on the rest of the page, which takes logs. */
export function FilmChooser({
  film,
  onFile,
  onForget,
}: {
  film: Film | null
  onFile: (file: File) => void
  onForget: () => void
}) {
  const { running, stop } = useTasks()
  const input = useRef<HTMLInputElement>(null)
  const [isOver, setOver] = useState(false)
  const over = (event: DragEvent) => {
    event.preventDefault()
    event.stopPropagation()
    setOver(true)
  }
  const dropped = (event: DragEvent) => {
    event.preventDefault()
    event.stopPropagation()
    setOver(false)
    const [file] = event.dataTransfer.files
    if (file) onFile(file)
  }
  return (
    <fieldset
      aria-label={t.chooseFilm}
      className="row tell-film"
      data-over={isOver}
      onDragOver={over}
      onDragLeave={() => setOver(false)}
      onDrop={dropped}
    >
      <input
        ref={input}
        type="file"
        accept="video/*,audio/*"
        className="hidden-words"
        tabIndex={-1}
        aria-label={t.chooseFilm}
        data-film
        onChange={event => {
          const [file] = event.target.files ?? []
          event.target.value = ''
          if (file) onFile(file)
        }}
      />
      <button
        type="button"
        className="button"
        disabled={running !== null}
        onClick={() => input.current?.click()}
      >
        {t.chooseFilm}
      </button>
      {running?.key === 'film-sound' ? (
        <>
          <span role="status" className="pencil">
            {t.listening}
          </span>
          <button type="button" className="button" onClick={stop}>
            {t.stop}
          </button>
        </>
      ) : film ? (
        <>
          <span>{t.filmIs(film.name, framesOf(film))}</span>
          <button type="button" className="button button-plain" onClick={onForget}>
            {t.forgetFilm}
          </button>
        </>
      ) : (
        <span className="pencil">{t.orDrop}</span>
      )}
    </fieldset>
  )
}

const framesOf = ({ facts }: Film): string =>
  facts === null
    ? ''
    : t.filmFrames(facts.width, facts.height, String(Math.round(meanRateHz(facts.times) * 1000) / 1000))
