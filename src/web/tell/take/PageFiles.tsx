import { useState } from 'react'
import { LOOKS, type LookName } from '../../../publish/figure/look.ts'
import { useBench } from '../../app/context.tsx'
import { got } from '../../data/trouble.ts'
import { texts } from '../../texts/index.ts'
import { printPage } from '../printPage.ts'
import { saveFile } from '../saveFile.ts'
import { TaskButton, TaskTrouble } from '../task.tsx'
import { useTold } from '../told.tsx'
import { toPng } from '../toPng.ts'
import { called } from '../useTelling.ts'
import { fileName } from './fileName.ts'
import { Pick } from './Pick.tsx'
import { SavePage } from './SavePage.tsx'

const t = texts.tell
const PAGE_LOOKS = ['system', ...(Object.keys(LOOKS) as LookName[])] as const

/** The page as a web page, as PDF, and as Markdown. */
export function PageFiles() {
  const { backend } = useBench()
  const { told, telling } = useTold()
  const [look, setLook] = useState<LookName | 'system'>('system')
  const { maker } = backend
  return (
    <section aria-labelledby="tell-take-page">
      <h3 id="tell-take-page">{t.page}</h3>
      <p className="pencil">{t.pageWhat}</p>
      <div className="row">
        <Pick label={t.look} value={look} from={PAGE_LOOKS} words={t.looks} onPick={setLook} />
        <SavePage name="page-html" look={look}>
          {t.savePage}
        </SavePage>
        <SavePage name="page-answer" look={look} answerAlone>
          {t.saveAnswerPage}
        </SavePage>
        <TaskButton
          name="page-pdf"
          disabled={telling === null}
          work={async ({ signal }) => {
            if (maker === null) printPage(got(await telling!.report(told, 'print')))
            else
              saveFile(
                fileName(told, '.pdf'),
                await maker.pdf(told.open.study.id, { initials: told.initials }, signal),
              )
          }}
        >
          {maker === null ? t.printPdf : t.savePdf}
        </TaskButton>
        <TaskButton
          name="page-md"
          disabled={telling === null}
          work={async ({ signal, onProgress }) => {
            const zip = got(await telling!.markdown(told, called(toPng), called(onProgress)))
            if (!signal.aborted) saveFile(fileName(told, '-markdown.zip'), zip)
          }}
        >
          {t.saveMarkdown}
        </TaskButton>
      </div>
      {maker === null && <p className="pencil small">{t.printWhat}</p>}
      <TaskTrouble of="page-" />
      <TaskTrouble of="next" />
    </section>
  )
}
