import { texts } from '../texts/index.ts'

/** Beside the label of a field that cannot be left empty; the field itself tells those who hear the page (`required`). */
export const Needed = () => (
  <span className="needed" aria-hidden="true">
    {texts.app.needed}
  </span>
)
