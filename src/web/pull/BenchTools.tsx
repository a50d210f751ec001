import { lazy, Suspense, useState } from 'react'
import { texts } from '../texts/index.ts'
import { FootSwitch } from './FootSwitch.tsx'

const SecondScreen = lazy(() => import('./SecondScreen.tsx'))
const words = texts.pull.tools

export interface Tools {
  readonly hasSound: boolean
  readonly isRoom: boolean
  readonly isFull: boolean
  readonly isNight: boolean
  readonly footKey: string | null
}

/** What helps one who stands at the rig: sound, size, a second screen, a switch for the foot. */
export function BenchTools({
  tools,
  onSound,
  onRoom,
  onFull,
  onNight,
  onFootKey,
}: {
  tools: Tools
  onSound: () => void
  onRoom: () => void
  onFull: () => void
  onNight: () => void
  onFootKey: (key: string | null) => void
}) {
  const [shown, setShown] = useState<'second' | 'foot' | null>(null)
  const toggle = (what: 'second' | 'foot') => setShown(shown === what ? null : what)
  const close = () => setShown(null)
  const { hasSound, isRoom, isFull, isNight, footKey } = tools
  return (
    <section aria-labelledby="pull-tools" className="pull-tools">
      <h2 id="pull-tools">{words.heading}</h2>
      <div className="row">
        <button type="button" className="button" aria-pressed={hasSound} onClick={onSound}>
          <kbd>M</kbd> {hasSound ? words.soundOn : words.sound}
        </button>
        <button type="button" className="button" aria-pressed={isRoom} onClick={onRoom}>
          <kbd>A</kbd> {words.room}
        </button>
        <button type="button" className="button" aria-pressed={isFull} onClick={onFull}>
          {isFull ? words.fullOff : words.full}
        </button>
        <button type="button" className="button" onClick={onNight}>
          {isNight ? words.paper : words.night}
        </button>
        <button
          type="button"
          className="button"
          aria-expanded={shown === 'second'}
          onClick={() => toggle('second')}
        >
          {words.second}
        </button>
        <button
          type="button"
          className="button"
          aria-expanded={shown === 'foot'}
          onClick={() => toggle('foot')}
        >
          {words.foot}
        </button>
      </div>
      {footKey !== null && <p className="pencil small">{texts.pull.footIs(footKey)}</p>}
      {shown === 'second' && (
        <Suspense>
          <SecondScreen onClose={close} />
        </Suspense>
      )}
      {shown === 'foot' && <FootSwitch footKey={footKey} onKey={onFootKey} onClose={close} />}
      <details>
        <summary>{words.keys}</summary>
        <dl className="pull-keys">
          {texts.pull.keyHelp.map(([key, what]) => (
            <div key={key}>
              <dt>
                <kbd>{key}</kbd>
              </dt>
              <dd>{what}</dd>
            </div>
          ))}
        </dl>
      </details>
    </section>
  )
}
