import { useMark } from '../app/units.tsx'
import { FigureInput } from '../parts/FigureInput.tsx'
import { Needed } from '../parts/Needed.tsx'

/** A figure in a sentence that can be typed over, with a slider under it for trying. */
export function Dial({
  name,
  value,
  unit,
  range: { least, most, step },
  onTry,
  onRelease,
  onType,
}: {
  name: string
  value: number
  unit: string
  range: { readonly least: number; readonly most: number; readonly step: number }
  /** While the slider moves. */
  onTry: (value: number) => void
  /** The slider was let go: what was tried last counts. */
  onRelease: () => void
  onType: (value: number) => void
}) {
  const mark = useMark()
  return (
    <span className="plan-dial">
      <span>
        <FigureInput
          className="plan-dial-input"
          aria-label={`${name}, ${unit}`}
          isNeeded
          value={Number(value.toPrecision(3))}
          onFigure={typed => typed !== null && onType(typed)}
        />
        {` ${unit}`} <Needed />
      </span>
      <input
        type="range"
        className="plan-dial-slider not-printed"
        aria-label={name}
        aria-valuetext={`${mark(String(value))} ${unit}`}
        min={least}
        max={most}
        step={step}
        value={Math.min(most, Math.max(least, value))}
        onChange={event => onTry(Number(event.target.value))}
        onPointerUp={onRelease}
        onKeyUp={onRelease}
        onBlur={onRelease}
      />
    </span>
  )
}
