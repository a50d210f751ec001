import { useState } from 'react'
import type { Sync } from '../../../publish/sync/document.ts'
import { got } from '../../data/trouble.ts'
import { texts } from '../../texts/index.ts'
import { saveFile } from '../saveFile.ts'
import { TaskButton, TaskTrouble } from '../task.tsx'
import { useTold } from '../told.tsx'
import { fileName } from './fileName.ts'
import { Pick } from './Pick.tsx'

const t = texts.tell
const RATES = ['1', '2', '5', '10'] as const
const FORMS = [
  ['vtt', t.saveVtt, 'text/vtt'],
  ['srt', t.saveSrt, 'application/x-subrip'],
] as const

/** Captions with the force now and the peak so far, and the breaks at their instants. */
export function CaptionFiles({ placed }: { placed: () => Promise<Sync> }) {
  const { told, telling } = useTold()
  const [perSecond, setPerSecond] = useState<(typeof RATES)[number]>('2')
  return (
    <section aria-labelledby="tell-captions">
      <h4 id="tell-captions">{t.captions}</h4>
      <div className="row">
        <Pick
          label={t.perSecond}
          value={perSecond}
          from={RATES}
          words={{ 1: '1', 2: '2', 5: '5', 10: '10' }}
          onPick={setPerSecond}
        />
        {FORMS.map(([form, words, type]) => (
          <TaskButton
            key={form}
            name={`captions-${form}`}
            disabled={telling === null}
            work={async () => {
              const asked = { form, perSecond: Number(perSecond) }
              const text = got(await telling!.captions(told, await placed(), asked))
              saveFile(fileName(told, `.${form}`), new Blob([text], { type }))
            }}
          >
            {words}
          </TaskButton>
        ))}
      </div>
      <TaskTrouble of="captions-" />
    </section>
  )
}
