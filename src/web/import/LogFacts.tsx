import type { ReactNode } from 'react'
import { threeDigits } from '../../core/units/showForce.ts'
import { useMark } from '../app/units.tsx'
import type { LogLook } from '../engine/types.ts'
import { texts } from '../texts/index.ts'

const NOTES_SHOWN = 5

/** All that is known of a log before it is kept. Its text is shown as text. */
export function LogFacts({ look: { read, columns, firstLines } }: { look: LogLook }) {
  const mark = useMark()
  const { facts } = texts.import
  const value = read.ok ? read.value : null
  const span =
    value && value.startS !== null && value.endS !== null
      ? texts.import.seconds(threeDigits(value.startS), threeDigits(value.endS))
      : ''
  return (
    <div className="import-facts-box">
      <dl className="import-facts">
        {columns.length > 0 && (
          <Fact name={facts.columns}>
            {columns.map((name, i) => texts.import.column(i + 1, name)).join(' · ')}
          </Fact>
        )}
        {value && (
          <>
            <Fact name={facts.unit}>
              {value.forceUnit === 'counts' ? texts.import.counts : value.forceUnit}
            </Fact>
            <Fact name={facts.times}>
              {mark(span)}, {texts.import.timeFrom[value.timeFrom]}
            </Fact>
            <Fact name={facts.samples}>{value.samples}</Fact>
            {value.assumptions.length > 0 && (
              <Fact name={facts.assumed}>
                {value.assumptions.map(({ code, text }) => (
                  <span key={`${code} ${text}`} className="import-assumed warning">
                    {text}
                  </span>
                ))}
              </Fact>
            )}
            {value.notes.length > 0 && (
              <Fact name={facts.notes}>
                {value.notes.slice(0, NOTES_SHOWN).map(({ line, text }) => (
                  <span key={`${line} ${text}`} className="import-assumed">
                    {text}
                  </span>
                ))}
                {value.notes.length > NOTES_SHOWN && texts.import.moreNotes(value.notes.length - NOTES_SHOWN)}
              </Fact>
            )}
          </>
        )}
      </dl>
      {firstLines.length > 0 && (
        <figure className="import-lines">
          <figcaption className="pencil small">{facts.lines}</figcaption>
          <pre>{firstLines.join('\n')}</pre>
        </figure>
      )}
    </div>
  )
}

const Fact = ({ name, children }: { name: string; children: ReactNode }) => (
  <>
    <dt>{name}</dt>
    <dd>{children}</dd>
  </>
)
