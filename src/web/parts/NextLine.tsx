import type { ReactNode } from 'react'
import { texts } from '../texts/index.ts'

/** One sentence that says what to do now, with the one action in it. Read aloud when it changes. */
export const NextLine = ({ children }: { children: ReactNode }) => (
  <div className="next-line" role="status" aria-label={texts.app.nextLabel}>
    {children}
  </div>
)
