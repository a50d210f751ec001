import { type ComponentProps, useId, useState } from 'react'
import { useMark } from '../app/units.tsx'
import { texts } from '../texts/index.ts'
import { DraftInput } from './DraftInput.tsx'
import { aboveZeroOrNull, type Typed } from './typed.ts'

/** A field for a figure, kept when it is left. One that does not fit stays to be corrected, and the reason stands under it. */
export function FigureInput({
  value,
  read = aboveZeroOrNull,
  fault = texts.app.notAFigure,
  isNeeded = false,
  onFigure,
  className = 'input',
  ...others
}: {
  value: number | null
  read?: (text: string) => Typed
  /** Said of a text that is no figure here. */
  fault?: string
  /** An empty field is no answer. */
  isNeeded?: boolean
  onFigure: (value: number | null) => void
} & Omit<ComponentProps<typeof DraftInput>, 'value' | 'onCommit' | 'inputMode'>) {
  const id = useId()
  const mark = useMark()
  const [isWrong, setIsWrong] = useState(false)
  return (
    <>
      <DraftInput
        {...others}
        className={className}
        value={value === null ? '' : mark(String(value))}
        inputMode="decimal"
        aria-required={isNeeded}
        aria-invalid={isWrong}
        aria-describedby={isWrong ? id : undefined}
        onCommit={text => {
          const figure = read(text)
          const isFigure = figure !== undefined && !(isNeeded && figure === null)
          setIsWrong(!isFigure)
          if (isFigure && figure !== value) onFigure(figure)
        }}
      />
      {isWrong && (
        <span id={id} className="warning small" role="alert">
          {fault}
        </span>
      )}
    </>
  )
}
