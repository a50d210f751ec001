import { useMemo, useState } from 'react'
import type { Line } from '../../server/apiTypes.ts'
import { texts } from '../texts/index.ts'
import { useKept } from './kept.ts'
import { choiceFrom, type LineChoice, type LineFault, lineOf } from './lineChoice.ts'

export interface ChosenLine {
  readonly choice: LineChoice
  change(part: Partial<LineChoice>): void
  /** Fields that cannot be so; told once it was tried to open the line. */
  readonly faults: readonly LineFault[]
  /** The line to be opened, kept for the next time; `null`: the form is not filled in. */
  take(): Line | null
  /** For people, the line that was opened before; `null`: none was. */
  readonly known: string | null
}

/** The line that was chosen, in this browser, now or the last time. */
export function useLineChoice(): ChosenLine {
  const [kept, keep] = useKept('line')
  const [choice, setChoice] = useState(() => choiceFrom(kept))
  const [faults, setFaults] = useState<readonly LineFault[]>([])
  const known = useMemo(() => (kept === null ? null : nameOf(choiceFrom(kept))), [kept])
  return {
    choice,
    faults,
    known,
    change(part) {
      setChoice({ ...choice, ...part })
      setFaults([])
    },
    take() {
      const made = lineOf(choice)
      if ('faults' in made) {
        setFaults(made.faults)
        return null
      }
      // Each pull of the pretend rig is another one.
      const next = choice.kind === 'pretend' ? { ...choice, seed: `${Number(choice.seed) + 1}` } : choice
      keep(JSON.stringify(next))
      setChoice(next)
      return made.line
    },
  }
}

const nameOf = ({ kind, path, host, port, pull, seed }: LineChoice): string => {
  switch (kind) {
    case 'serial':
      return path
    case 'tcp':
      return `${host}:${port}`
    case 'page':
      return texts.pull.pagePort.where
    case 'pretend':
      return `${pull} ${seed}`
  }
}
