import type { ClipSize } from '../../../publish/clip/overlayJob.ts'
import { texts } from '../../texts/index.ts'

const t = texts.tell
const SIZES = ['1920x1080', '3840x2160', '1280x720', '1080x1920', '1080x1080'] as const

/** Size, frames a second and colours of a clip; `fixed`: those of a film, which it must keep to. */
export function ClipChoices({
  size,
  fixed = false,
  onChange,
}: {
  size: ClipSize
  fixed?: boolean
  onChange: (size: ClipSize) => void
}) {
  const now = `${size.width}x${size.height}`
  const sizes = SIZES.some(one => one === now) ? SIZES : [now, ...SIZES]
  return (
    <>
      <label className="tell-pick">
        <span className="label">{t.size}</span>
        <select
          className="input"
          value={now}
          disabled={fixed}
          onChange={event => {
            const [width = 0, height = 0] = event.target.value.split('x').map(Number)
            onChange({ ...size, width, height })
          }}
        >
          {sizes.map(one => (
            <option key={one} value={one}>
              {one.replace('x', ' × ')}
            </option>
          ))}
        </select>
      </label>
      <label className="tell-pick tell-pick-short">
        <span className="label">{t.rate}</span>
        <input
          className="input"
          value={size.rate}
          disabled={fixed}
          onChange={event => onChange({ ...size, rate: event.target.value })}
        />
      </label>
      <label>
        <input
          type="checkbox"
          checked={size.dark}
          onChange={event => onChange({ ...size, dark: event.target.checked })}
        />{' '}
        {t.dark}
      </label>
    </>
  )
}

export const USUAL_CLIP: ClipSize = { width: 1920, height: 1080, dark: false, rate: '30' }
