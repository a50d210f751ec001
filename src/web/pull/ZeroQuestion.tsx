import { useLiveFrame } from '../live/useLive.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import type { Pull } from './usePull.ts'

const words = texts.pull

/** Whether the specimen hangs free, what happens if it does not, and the force as it stands. */
export function ZeroQuestion({ pull }: { pull: Pull }) {
  const { figures } = useLiveFrame()
  return (
    <section className="pull-zero" aria-label={words.states['asking-zero']}>
      <p>
        {figures?.zeroFrom === 'none' ? words.zeroBefore : words.zeroQuestion(pull.forceNow())}{' '}
        {words.zeroConsequence}
      </p>
      <Problems error={pull.error}>
        <button type="button" className="button" onClick={() => void pull.takeZeroAnyway()}>
          {words.buttons.zeroAnyway}
        </button>
      </Problems>
      <button type="button" className="button" onClick={() => pull.press('escape')}>
        {words.buttons.leaveZero}
      </button>
    </section>
  )
}
