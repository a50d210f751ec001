import type { ReactNode } from 'react'
import type { LookName } from '../../../publish/figure/look.ts'
import { got } from '../../data/trouble.ts'
import { saveFile } from '../saveFile.ts'
import { TaskButton } from '../task.tsx'
import { useTold } from '../told.tsx'
import { fileName } from './fileName.ts'

/** The page as one file: letter for letter what `tenterhook report` writes. */
export function SavePage({
  name,
  look,
  isMain = false,
  answerAlone = false,
  children,
}: {
  name: string
  look: LookName | 'system'
  isMain?: boolean
  /** The answer on one page, instead of the whole of it. */
  answerAlone?: boolean
  children: ReactNode
}) {
  const { told, telling } = useTold()
  return (
    <TaskButton
      name={name}
      isMain={isMain}
      disabled={telling === null}
      work={async ({ signal }) => {
        const page = got(await (answerAlone ? telling!.answerPage(told, look) : telling!.report(told, look)))
        if (!signal.aborted)
          saveFile(
            fileName(told, answerAlone ? '-answer.html' : '.html'),
            new Blob([page], { type: 'text/html' }),
          )
      }}
    >
      {children}
    </TaskButton>
  )
}
