import type { ReactNode } from 'react'
import { problemsOf } from '../data/trouble.ts'

/** What went wrong, where, and the cure, beside what caused it. */
export function Problems({ error, children }: { error: unknown; children?: ReactNode }) {
  if (error === null || error === undefined) return null
  return (
    <div className="trouble" role="alert">
      {problemsOf(error).map(({ where, what, cure }) => (
        <p key={`${where} ${what}`}>
          <strong>{where}:</strong> {what} {cure}
        </p>
      ))}
      {children}
    </div>
  )
}
