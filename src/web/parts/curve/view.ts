/** A stretch of the lower axis, in its own unit; `to` is greater than `from`. */
export interface View {
  readonly from: number
  readonly to: number
}

/** No closer than this share of the whole: past it a float's steps would show. */
const CLOSEST_SHARE = 1e-7

/** The view moved and narrowed so that it lies in the whole. */
export function within({ from, to }: View, whole: View): View {
  const all = whole.to - whole.from
  const span = Math.min(all, Math.max(to - from, all * CLOSEST_SHARE))
  const start = Math.min(Math.max(from, whole.from), whole.to - span)
  return { from: start, to: start + span }
}

/** `factor` above 1 comes closer; what lies at `at` stays where it is. */
export function zoomed(view: View, whole: View, factor: number, at: number): View {
  const span = (view.to - view.from) / factor
  const share = (at - view.from) / (view.to - view.from)
  return within({ from: at - share * span, to: at + (1 - share) * span }, whole)
}

/** Moved along by a share of what is seen. */
export function panned(view: View, whole: View, share: number): View {
  const by = share * (view.to - view.from)
  return within({ from: view.from + by, to: view.to + by }, whole)
}

/** Whether nothing lies outside the view. */
export const isWhole = (view: View, whole: View): boolean => view.from <= whole.from && view.to >= whole.to

/** A stretch with room on both sides, for a closer look at it. */
export function around({ from, to }: View, whole: View, room = 0.6): View {
  const least = (whole.to - whole.from) / 200
  const margin = Math.max(room * (to - from), least)
  return within({ from: from - margin, to: to + margin }, whole)
}

const KEY_ZOOM = 1.5
const KEY_PAN = 0.1
const FAR_PAN = 0.8

/** What a key does to the view; `null` where the key means nothing to a curve. */
export function viewByKey(key: string, far: boolean, view: View, whole: View): View | null {
  const middle = (view.from + view.to) / 2
  const pan = far ? FAR_PAN : KEY_PAN
  switch (key) {
    case 'ArrowLeft':
      return panned(view, whole, -pan)
    case 'ArrowRight':
      return panned(view, whole, pan)
    case 'PageUp':
      return panned(view, whole, -FAR_PAN)
    case 'PageDown':
      return panned(view, whole, FAR_PAN)
    case 'Home':
      return within({ from: whole.from, to: whole.from + view.to - view.from }, whole)
    case 'End':
      return within({ from: whole.to - view.to + view.from, to: whole.to }, whole)
    case '+':
    case '=':
      return zoomed(view, whole, KEY_ZOOM, middle)
    case '-':
    case '−':
    case '_':
      return zoomed(view, whole, 1 / KEY_ZOOM, middle)
    case '0':
      return whole
    default:
      return null
  }
}
