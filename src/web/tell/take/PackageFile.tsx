import { useState } from 'react'
import { LICENCES } from '../../../publish/package/licences.ts'
import { useBench } from '../../app/context.tsx'
import { useSettings } from '../../app/settings.tsx'
import { got } from '../../data/trouble.ts'
import { Answered } from '../../parts/Answered.tsx'
import { texts } from '../../texts/index.ts'
import { saveFile } from '../saveFile.ts'
import { TaskButton, TaskTrouble } from '../task.tsx'
import { useTold } from '../told.tsx'
import { called } from '../useTelling.ts'
import { fileName } from './fileName.ts'
import { Pick } from './Pick.tsx'

const t = texts.tell
const NAMES = ['none', ...LICENCES.map(({ name }) => name)]
const WORDS: Readonly<Record<string, string>> = {
  none: t.noLicence,
  ...Object.fromEntries(LICENCES.map(({ name, title }) => [name, `${name}: ${title}`])),
}

/** The data package; its licence is the maker's to choose. */
export function PackageFile() {
  const { backend } = useBench()
  const { settings } = useSettings()
  const { told, telling } = useTold()
  const [licence, setLicence] = useState('none')
  const [author, setAuthor] = useState<string | null>(null)
  const by = author ?? settings.operator
  return (
    <Answered heading={t.data} answer="" level={3}>
      <p className="pencil">{t.dataWhat}</p>
      <div className="row">
        <Pick label={t.licence} value={licence} from={NAMES} words={WORDS} onPick={setLicence} />
        <label className="tell-pick">
          <span className="label">{t.author}</span>
          <input
            className="input"
            value={by}
            maxLength={200}
            onChange={event => setAuthor(event.target.value)}
          />
        </label>
        <TaskButton
          name="data-zip"
          disabled={telling === null}
          work={async ({ signal, onProgress }) => {
            const asked = { licence, author: by.trim() }
            const zip = backend.maker
              ? await backend.maker.dataPackage(
                  told.open.study.id,
                  { ...asked, initials: told.initials },
                  signal,
                )
              : got(await telling!.dataPackage(told, asked, called(onProgress)))
            if (!signal.aborted) saveFile(fileName(told, '.zip'), zip)
          }}
        >
          {t.saveData}
        </TaskButton>
      </div>
      <TaskTrouble of="data-" />
    </Answered>
  )
}
