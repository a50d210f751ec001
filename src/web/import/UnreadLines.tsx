import type { Assumption } from '../../core/recording.ts'
import { texts } from '../texts/index.ts'

/** The lines with numbers that were not read, on request: with their numbers in the file, as they stand there. */
export function UnreadLines({ assumptions }: { assumptions: readonly Assumption[] }) {
  const lines = assumptions.find(({ code }) => code === 'lines-not-read')?.lines
  if (!lines) return null
  const more = lines.count - lines.first.length
  return (
    <details className="import-unread">
      <summary className="warning">{texts.import.unread(lines.count)}</summary>
      <ul>
        {lines.first.map(({ line, text }) => (
          <li key={line}>
            <span className="pencil">{texts.import.line(line)}</span> <code>{text}</code>
          </li>
        ))}
      </ul>
      {more > 0 && <p className="small pencil">{texts.import.moreLines(more)}</p>}
    </details>
  )
}
