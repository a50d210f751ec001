import { useEffect, useRef, useState } from 'react'
import { PREVIEW_FRAME } from '../../publish/report/previewFrame.ts'
import { useBench } from '../app/context.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { useReport } from './useMade.ts'

const t = texts.tell
const LOOKS = ['light', 'dark', 'print'] as const

/** The app's own, to begin with. */
const themeNow = () => (document.documentElement.dataset.theme === 'dark' ? 'dark' : 'light')

/** The page as it will be read, in a frame that has no rights of the app. `at`: the part that is worked on. */
export function Preview({ at }: { at: string | null }) {
  const { backend } = useBench()
  const [look, setLook] = useState<(typeof LOOKS)[number]>(themeNow)
  const frame = useRef<HTMLIFrameElement>(null)
  const [isReady, setReady] = useState(false)
  const { data: page, error, isBusy } = useReport(look)
  useEffect(() => {
    const hear = (event: MessageEvent) => {
      if (event.source === frame.current?.contentWindow && event.data === 'ready') setReady(true)
    }
    addEventListener('message', hear)
    return () => removeEventListener('message', hear)
  }, [])
  useEffect(() => {
    // The frame's origin is its own and has no name, so no other target can be given.
    if (isReady && page !== undefined) frame.current?.contentWindow?.postMessage({ page, at }, '*')
  }, [isReady, page, at])
  return (
    <section aria-labelledby="tell-preview" className="tell-preview">
      <div className="row">
        <h2 id="tell-preview">{t.preview}</h2>
        <fieldset className="tell-looks">
          <legend className="hidden-words">{t.previewLook}</legend>
          {LOOKS.map(name => (
            <label key={name}>
              <input type="radio" name="tell-look" checked={look === name} onChange={() => setLook(name)} />{' '}
              {t.previewLooks[name]}
            </label>
          ))}
        </fieldset>
        <span role="status" className="pencil">
          {isBusy ? t.making : ''}
        </span>
      </div>
      <Problems error={error} />
      <iframe
        ref={frame}
        title={t.frame}
        className="tell-frame"
        data-look={look}
        sandbox="allow-scripts allow-modals"
        {...(backend.kind === 'server' ? { src: 'preview' } : { srcDoc: PREVIEW_FRAME })}
      />
    </section>
  )
}
