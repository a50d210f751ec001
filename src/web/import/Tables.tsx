import { useId, useState } from 'react'
import type { PartLook } from '../engine/types.ts'
import { texts } from '../texts/index.ts'
import { useLogs } from './LogsProvider.tsx'
import { partFiles } from './partFiles.ts'
import { Sketch } from './Sketch.tsx'
import type { LogItem } from './types.ts'

/** Of a file with several tables: whether they are one specimen or several, with the curve of each. */
export function Tables({ item, parts }: { item: LogItem; parts: readonly PartLook[] }) {
  const { dispatch } = useLogs()
  const [isParting, setParting] = useState(false)
  const name = useId()
  const part = async () => {
    setParting(true)
    dispatch({ type: 'parted', id: item.id, parts: await partFiles(item.file, item.options) })
  }
  return (
    <fieldset className="import-tables" disabled={isParting}>
      <legend>{texts.import.tables(parts.length)}</legend>
      <label>
        <input type="radio" name={name} checked={!isParting} onChange={() => {}} />{' '}
        {parts.some(({ isBeside }) => isBeside)
          ? texts.import.oneOfBeside
          : texts.import.oneSpecimen(parts.length)}
      </label>
      <label>
        <input type="radio" name={name} checked={isParting} onChange={() => void part()} />{' '}
        {texts.import.manySpecimens(parts.length)}
      </label>
      <ol className="import-tables-curves">
        {parts.map(({ title, firstLine, lastLine, curve }, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: tables have no other name, and never change their order.
          <li key={i}>
            {curve && (
              <Sketch curve={curve} label={texts.import.tableCurve(title ?? texts.import.part(i + 1))} />
            )}
            <span className="small">
              {title ?? texts.import.part(i + 1)}{' '}
              <span className="pencil">{texts.import.linesOf(firstLine, lastLine)}</span>
            </span>
          </li>
        ))}
      </ol>
    </fieldset>
  )
}

/** Of a table that was taken from its file: the way back. */
export function CutFrom({ item, file }: { item: LogItem; file: File }) {
  const { state, dispatch } = useLogs()
  const isLocked = state.items.some(({ cutFrom, kept }) => cutFrom === file && kept !== 'no')
  return (
    <p className="small pencil">
      {texts.import.cutFrom(file.name)}{' '}
      {!isLocked && item.kept === 'no' && (
        <button
          type="button"
          className="button button-plain"
          onClick={() => dispatch({ type: 'rejoined', file })}
        >
          {texts.import.rejoin}
        </button>
      )}
    </p>
  )
}
