import type { Rig as RigDocument } from '../../../core/calibration/rig.ts'
import { useMark } from '../../app/units.tsx'
import { texts } from '../../texts/index.ts'
import { LinkSign } from './LinkSign.tsx'
import { knownOf, LINKS, type Link } from './links.ts'

const t = texts.rig

/** The rig as a chain from drive to computer: each link says what is known of it, or asks. */
export function Chain({
  rig,
  lineWords,
  open,
  onOpen,
}: {
  rig: RigDocument
  /** What is known of the line at this moment; `null`: nothing. */
  lineWords: string | null
  open: Link | null
  onOpen: (link: Link | null) => void
}) {
  const mark = useMark()
  return (
    <ol className="plain-list rig-chain">
      {LINKS.map(link => {
        const known = link === 'line' ? (lineWords === null ? [] : [lineWords]) : knownOf(rig, link)
        return (
          <li key={link} className="rig-link" data-open={open === link} data-known={known.length > 0}>
            <button
              type="button"
              aria-expanded={open === link}
              onClick={() => onOpen(open === link ? null : link)}
            >
              <LinkSign link={link} />
              <strong>{t.links[link]}</strong>
              {known.length > 0 ? (
                known.map(text => (
                  <span key={text} className="rig-known">
                    {mark(text)}
                  </span>
                ))
              ) : (
                <span className="rig-asks">{t.asks[link]}</span>
              )}
            </button>
          </li>
        )
      })}
    </ol>
  )
}
