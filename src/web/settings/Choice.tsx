import { useId } from 'react'

/** One of a few, all in sight. */
export function Choice<T extends string>({
  legend,
  value,
  choices,
  onChoose,
}: {
  legend: string
  value: T
  choices: Readonly<Record<T, string>>
  onChoose: (value: T) => void
}) {
  const name = useId()
  return (
    <fieldset className="settings-choice">
      <legend>{legend}</legend>
      {(Object.entries(choices) as [T, string][]).map(([one, words]) => (
        <label key={one}>
          <input type="radio" name={name} checked={one === value} onChange={() => onChoose(one)} />
          {words}
        </label>
      ))}
    </fieldset>
  )
}
