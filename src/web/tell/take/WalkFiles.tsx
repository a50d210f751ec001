import { useState } from 'react'
import type { ClipSize } from '../../../publish/clip/overlayJob.ts'
import { slug } from '../../../publish/package/slugs.ts'
import { got } from '../../data/trouble.ts'
import { texts } from '../../texts/index.ts'
import { saveFile } from '../saveFile.ts'
import { TaskButton, TaskTrouble } from '../task.tsx'
import { useTold } from '../told.tsx'
import { toPng } from '../toPng.ts'
import { called } from '../useTelling.ts'
import { ClipChoices, USUAL_CLIP } from './ClipChoices.tsx'
import { fileName } from './fileName.ts'
import { Pick } from './Pick.tsx'

const t = texts.tell
const STEPS = ['3', '5', '8', '12'] as const

/** The walk through one curve, for talking over: pictures with their sentences, or a clip. */
export function WalkFiles({ specimen }: { specimen: string }) {
  const { told, telling } = useTold()
  const [size, setSize] = useState<ClipSize>(USUAL_CLIP)
  const [stepS, setStepS] = useState<(typeof STEPS)[number]>('5')
  const asked = { ...size, specimen, stepS: Number(stepS) }
  const stem = `-${slug(specimen, 'specimen')}-steps`
  return (
    <section aria-labelledby="tell-walk">
      <h4 id="tell-walk">{t.walk}</h4>
      <p className="pencil">{t.walkWhat}</p>
      <div className="row">
        <ClipChoices size={size} onChange={setSize} />
        <Pick
          label={t.stepS}
          value={stepS}
          from={STEPS}
          words={{ 3: '3', 5: '5', 8: '8', 12: '12' }}
          onPick={setStepS}
        />
        <TaskButton
          name="walk-zip"
          disabled={telling === null}
          work={async ({ signal, onProgress }) => {
            const zip = got(await telling!.walkPictures(told, asked, called(toPng), called(onProgress)))
            if (!signal.aborted) saveFile(fileName(told, `${stem}.zip`), zip)
          }}
        >
          {t.saveWalkPictures}
        </TaskButton>
        <TaskButton
          name="walk-webm"
          disabled={telling === null}
          work={async ({ signal, onProgress }) => {
            const clip = got(await telling!.walkClip(told, asked, called(onProgress)))
            if (!signal.aborted) saveFile(fileName(told, `${stem}.webm`), clip)
          }}
        >
          {t.saveWalkClip}
        </TaskButton>
      </div>
      <TaskTrouble of="walk-" />
    </section>
  )
}
