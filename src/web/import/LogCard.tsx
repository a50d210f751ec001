import { useState } from 'react'
import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { useMark } from '../app/units.tsx'
import type { LogLook } from '../engine/types.ts'
import { texts } from '../texts/index.ts'
import { isFree } from './assign.ts'
import { curedBy, OPTION_NAMES, withFields } from './cures.ts'
import { startByFile, suggestedByFile } from './fileTime.ts'
import { problemsWith } from './importPlan.ts'
import { LogFacts } from './LogFacts.tsx'
import { useLogs } from './LogsProvider.tsx'
import { OptionField } from './OptionField.tsx'
import { Sketch } from './Sketch.tsx'
import { CutFrom, Tables } from './Tables.tsx'
import type { LogItem } from './types.ts'
import { UnreadLines } from './UnreadLines.tsx'

interface LogCardProps {
  readonly item: LogItem
  readonly twin: LogItem | undefined
  /** Its neighbours among the logs of its specimen. */
  readonly before: LogItem | undefined
  readonly after: LogItem | undefined
}

/** One log: what was understood of it in a line, its curve, and behind a fold the rest with the corrections. */
export function LogCard({ item, twin, before, after }: LogCardProps) {
  const { dispatch } = useLogs()
  const mark = useMark()
  const { id, file, look, leftOut, kept } = item
  const read = look?.read.ok ? look.read.value : null
  const swap = (other: LogItem | undefined) => other && dispatch({ type: 'swapped', a: id, b: other.id })
  return (
    <article className="import-log" id={`log-${id}`} data-left={leftOut} aria-busy={item.stale}>
      <div className="import-log-head">
        <h4>{file.name}</h4>
        <StateWords item={item} twin={twin} />
        {kept !== 'yes' && (
          <span className="import-log-doings">
            {(before || after) && !leftOut && (
              <>
                <Doing of={file.name} off={!before} onDo={() => swap(before)} words={texts.import.earlier} />
                <Doing of={file.name} off={!after} onDo={() => swap(after)} words={texts.import.later} />
              </>
            )}
            <Doing
              of={file.name}
              onDo={() => dispatch({ type: 'leftOut', id, leftOut: !leftOut })}
              words={leftOut ? texts.import.takeAgain : texts.import.leaveOut}
            />
          </span>
        )}
      </div>
      {!leftOut && (
        <>
          <Troubles item={item} />
          {read && (
            <div className="import-log-body">
              <Sketch curve={read.curve} label={texts.import.curveLabel(file.name)} />
              <p className="import-understood">
                {mark(read.peak === '' ? texts.import.countsPeak : read.peak)}
                <br />
                <span className="pencil small">{read.understood}</span>
              </p>
            </div>
          )}
          {read && <UnreadLines assumptions={read.assumptions} />}
          <FileTime item={item} />
          {look && look.parts.length > 1 && kept !== 'yes' && <Tables item={item} parts={look.parts} />}
          {item.cutFrom && <CutFrom item={item} file={item.cutFrom} />}
          {look && kept !== 'yes' && <More item={item} look={look} />}
        </>
      )}
    </article>
  )
}

/** What can be done with a log; its name is said to those who do not see which one the button stands beside. */
const Doing = ({
  words,
  of,
  off = false,
  onDo,
}: {
  words: string
  of: string
  off?: boolean
  onDo: () => void
}) => (
  <button type="button" className="button button-plain" disabled={off} onClick={onDo}>
    {words}
    <span className="hidden-words">{of}</span>
  </button>
)

function StateWords({ item, twin }: { item: LogItem; twin: LogItem | undefined }) {
  const { known, kept, leftOut, stale } = item
  if (kept === 'yes') return <span className="import-state">{texts.import.kept}</span>
  if (kept === 'now') return <span className="import-state">{texts.import.keepingNow}</span>
  if (leftOut) return <span className="import-state pencil">{texts.import.leftOut}</span>
  if (twin) return <span className="import-state warning">{texts.import.twin(twin.file.name)}</span>
  if (known && isFree(item))
    return (
      <span className="import-state warning">
        {known.setAside ? texts.import.knownAside(known.setAside.why) : texts.import.knownFree}
      </span>
    )
  if (known?.specimen && known.study)
    return (
      <span className="import-state warning">
        {texts.import.knownOn(known.specimen.name, known.study.name)}{' '}
        <Link href={addressOf.specimen(known.study.id, known.specimen.id)}>{texts.import.openKnown}</Link>
      </span>
    )
  return stale ? <span className="import-state pencil">{texts.import.looking}</span> : null
}

/** What stands in the way, and beside it the fields that cure it. */
function Troubles({ item }: { item: LogItem }) {
  const { dispatch } = useLogs()
  const problems = problemsWith(item)
  if (problems.length === 0) return null
  return (
    <div className="trouble" role="alert">
      {problems.map(({ where, what, cure }) => (
        <p key={`${where} ${what}`}>
          <strong>{where}:</strong> {withFields(what)} {withFields(cure)}
        </p>
      ))}
      <div className="import-options">
        {curedBy(problems).map(name => (
          <OptionField
            key={name}
            name={name}
            options={item.options}
            columns={item.look?.columns ?? []}
            onChange={options => dispatch({ type: 'corrected', ids: [item.id], options })}
          />
        ))}
      </div>
    </div>
  )
}

/** The day of a log that tells none, as its file suggests it: never taken unless a person says so. */
function FileTime({ item }: { item: LogItem }) {
  const { state, dispatch } = useLogs()
  const startedAt = startByFile(item)
  if (startedAt === null || item.known !== null || item.kept !== 'no') return null
  const others = suggestedByFile(state.items).filter(other => other.byFileTime !== item.byFileTime)
  const take = (ids: readonly number[], byFileTime: boolean) =>
    dispatch({ type: 'byFileTime', ids, byFileTime })
  return (
    <div className="import-file-time">
      <label>
        <input
          type="checkbox"
          checked={item.byFileTime}
          onChange={event => take([item.id], event.target.checked)}
        />{' '}
        {texts.import.byFileTime(startedAt.slice(0, 16).replace('T', ' '))}
      </label>
      {item.byFileTime && others.length > 0 && (
        <button
          type="button"
          className="button button-plain"
          onClick={() =>
            take(
              others.map(({ id }) => id),
              true,
            )
          }
        >
          {texts.import.byFileTimeAll(others.length)}
        </button>
      )}
      <p className="pencil small">{texts.import.byFileTimeWhy}</p>
    </div>
  )
}

/** Made only once it is opened: of hundreds of logs, few are. */
function More({ item, look }: { item: LogItem; look: LogLook }) {
  const [isOpen, setOpen] = useState(false)
  return (
    <details onToggle={event => setOpen(event.currentTarget.open)}>
      <summary>{texts.import.more}</summary>
      {isOpen && (
        <>
          <Corrections item={item} />
          <LogFacts look={look} />
        </>
      )}
    </details>
  )
}

function Corrections({ item }: { item: LogItem }) {
  const { state, dispatch } = useLogs()
  const given = Object.keys(item.options).length > 0
  const others = state.items.filter(other => other.kept !== 'yes')
  return (
    <fieldset className="import-corrections">
      <legend>{texts.import.correct}</legend>
      <div className="import-options">
        {OPTION_NAMES.map(name => (
          <OptionField
            key={name}
            name={name}
            options={item.options}
            columns={item.look?.columns ?? []}
            onChange={options => dispatch({ type: 'corrected', ids: [item.id], options })}
          />
        ))}
      </div>
      {given && (
        <div className="row">
          {others.length > 1 && (
            <button
              type="button"
              className="button"
              onClick={() =>
                dispatch({ type: 'corrected', ids: others.map(({ id }) => id), options: item.options })
              }
            >
              {texts.import.sameForAll(others.length)}
            </button>
          )}
          <button
            type="button"
            className="button button-plain"
            onClick={() => dispatch({ type: 'corrected', ids: [item.id], options: {} })}
          >
            {texts.import.back}
          </button>
        </div>
      )}
    </fieldset>
  )
}
