import type { StudyChange } from '../data/useStudyChange.ts'
import { DraftArea } from '../parts/DraftArea.tsx'
import { texts } from '../texts/index.ts'

const t = texts.plan
export const QUESTION_ID = 'plan-question'

/** The question of the study: a heading that can be typed into. */
export const QuestionHeading = ({
  studyId,
  question,
  change,
}: {
  studyId: string
  question: string
  change: StudyChange['change']
}) => (
  <h1>
    <label className="hidden-words" htmlFor={QUESTION_ID}>
      {t.question}
    </label>
    <DraftArea
      id={QUESTION_ID}
      className="plan-question"
      value={question}
      keptAs={`question.${studyId}`}
      isOneParagraph
      rows={1}
      maxLength={2000}
      placeholder={t.questionHint}
      onCommit={text => change({ question: text }, t.didQuestion)}
    />
  </h1>
)
