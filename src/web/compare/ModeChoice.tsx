import type { OpenStudy } from '../data/backend.ts'
import { texts } from '../texts/index.ts'

const t = texts.compare

/** One way of failing alone, or whatever lets go first; nothing where no specimen is said to have failed in more than one. */
export function ModeChoice({
  open,
  mode,
  onChoose,
}: {
  open: OpenStudy
  mode: string | null
  onChoose(mode: string | null): void
}) {
  const known = [
    ...new Set(open.specimens.flatMap(({ failureMode }) => (failureMode === null ? [] : [failureMode]))),
  ]
  if (known.length < 2 && mode === null) return null
  return (
    <label>
      {t.mode}{' '}
      <select className="input" value={mode ?? ''} onChange={event => onChoose(event.target.value || null)}>
        <option value="">{t.modeAll}</option>
        {known.map(name => (
          <option key={name} value={name}>
            {t.modeOnly(name)}
          </option>
        ))}
      </select>
    </label>
  )
}
