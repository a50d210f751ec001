import type { PeakForce } from '../../core/reading/document.ts'
import { type ZeroChoice as Choice, zeroSentence } from '../../core/reading/zeroWords.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import { useShowForce } from '../app/units.tsx'
import { texts } from '../texts/index.ts'
import { type Draft, type DraftKind, seconds } from './adjust/draft.ts'

const words = texts.read.zeroChoice

/**
 * Where more than one zero remains possible: all of them in one sentence, each with the peak that would follow, and a
 * press for each stretch to say what it was. That is kept at once; what it changed is told, with the way back.
 */
export function ZeroChoice({
  peak,
  choices,
  unit,
  isKeeping,
  onSay,
}: {
  peak: PeakForce
  choices: readonly Choice[]
  unit: ShownUnit
  isKeeping: boolean
  onSay: (kind: DraftKind, given: Partial<Draft>) => void
}) {
  const show = useShowForce(unit)
  const sentence = zeroSentence(peak, show)
  if (sentence === null) return null
  const say = (kind: DraftKind, { fromS, toS }: Choice, why: string) =>
    onSay(kind, { fromS: seconds(fromS), toS: seconds(toS), why })
  return (
    <section className="read-zero" aria-labelledby="read-zero">
      <h2 id="read-zero">{words.heading}</h2>
      <p>{sentence}</p>
      <ul>
        {choices.map(choice => (
          <li key={choice.levelN} className="read-choices">
            <span>{words.stood(show(choice.levelN, null), seconds(choice.fromS), seconds(choice.toS))}</span>
            <button
              type="button"
              className="button"
              disabled={isKeeping}
              onClick={() => say('zero-here', choice, words.whyEmpty)}
            >
              {words.empty}
            </button>
            <button
              type="button"
              className="button"
              disabled={isKeeping}
              onClick={() => say('hold', choice, words.whyHold)}
            >
              {words.hold}
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
