import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { FilmFacts } from '../../../publish/clip/filmFacts.ts'
import { meanRateHz } from '../../../publish/clip/frameTimes.ts'
import type { ClipSize, OverlayAsked } from '../../../publish/clip/overlayJob.ts'
import type { Sync } from '../../../publish/sync/document.ts'
import { useBench } from '../../app/context.tsx'
import { got } from '../../data/trouble.ts'
import { texts } from '../../texts/index.ts'
import { saveFile } from '../saveFile.ts'
import { TaskButton, TaskTrouble } from '../task.tsx'
import { useTold } from '../told.tsx'
import { called } from '../useTelling.ts'
import { ClipChoices, USUAL_CLIP } from './ClipChoices.tsx'
import { fileName } from './fileName.ts'
import { Pick } from './Pick.tsx'

const t = texts.tell
const GROUNDS = ['plate', 'rim'] as const

/** The overlay as a transparent clip or as pictures, rendered in the browser; QuickTime by the server. */
export function OverlayFile({ placed, facts }: { placed: () => Promise<Sync>; facts: FilmFacts | null }) {
  const { told, telling } = useTold()
  const { maker } = useBench().backend
  const { data: hasQuickTime } = useQuery({
    queryKey: ['clips', 'quickTime'],
    queryFn: async () => (maker === null ? null : maker.hasQuickTime()),
  })
  const [typed, setTyped] = useState<ClipSize>(USUAL_CLIP)
  const [ground, setGround] = useState<OverlayAsked['ground']>('plate')
  const size: ClipSize =
    facts === null
      ? typed
      : {
          ...typed,
          width: facts.width,
          height: facts.height,
          rate: String(Math.round(meanRateHz(facts.times) * 1000) / 1000),
        }
  return (
    <section aria-labelledby="tell-overlay">
      <h4 id="tell-overlay">{t.overlay}</h4>
      <p className="pencil">{t.overlayWhat}</p>
      <div className="row">
        <ClipChoices size={size} fixed={facts !== null} onChange={setTyped} />
        <Pick label={t.ground} value={ground} from={GROUNDS} words={t.grounds} onPick={setGround} />
      </div>
      <div className="row">
        <TaskButton
          name="overlay-webm"
          disabled={telling === null}
          work={async ({ signal, onProgress }) => {
            const clip = got(
              await telling!.overlay(told, await placed(), { ...size, ground }, facts, called(onProgress)),
            )
            if (!signal.aborted) saveFile(fileName(told, '-overlay.webm'), clip)
          }}
        >
          {t.saveOverlay}
        </TaskButton>
        {hasQuickTime === true && maker && (
          <TaskButton
            name="overlay-mov"
            disabled={telling === null}
            work={async ({ signal, onProgress }) => {
              const times = facts?.times ?? null
              const asked = { ...size, ground, sync: await placed(), times, initials: told.initials }
              const clip = await maker.quickTime(told.open.study.id, asked, { signal, onProgress })
              if (!signal.aborted) saveFile(fileName(told, '-overlay.mov'), clip)
            }}
          >
            {t.saveQuickTime}
          </TaskButton>
        )}
        <TaskButton
          name="overlay-png"
          disabled={telling === null}
          work={async ({ signal, onProgress }) => {
            const asked = { ...size, ground }
            const zip = got(
              await telling!.overlayPictures(told, await placed(), asked, facts, called(onProgress)),
            )
            if (!signal.aborted) saveFile(fileName(told, '-overlay-pictures.zip'), zip)
          }}
        >
          {t.savePictures}
        </TaskButton>
      </div>
      {hasQuickTime === false && <p className="pencil">{t.noQuickTime}</p>}
      <TaskTrouble of="overlay-" />
    </section>
  )
}
