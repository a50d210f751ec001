/** A short choice of words. */
export function Pick<T extends string>({
  label,
  value,
  from,
  words,
  onPick,
}: {
  label: string
  value: T
  from: readonly T[]
  words: Readonly<Record<T, string>>
  onPick: (value: T) => void
}) {
  return (
    <label className="tell-pick">
      <span className="label">{label}</span>
      <select
        className="input"
        value={value}
        onChange={event => {
          const picked = from.find(one => one === event.target.value)
          if (picked !== undefined) onPick(picked)
        }}
      >
        {from.map(one => (
          <option key={one} value={one}>
            {words[one]}
          </option>
        ))}
      </select>
    </label>
  )
}
