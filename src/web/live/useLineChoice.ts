import { useMemo, useState } from 'react'
import { useHashLocation } from 'wouter/use-hash-location'
import type { Line } from '../../server/apiTypes.ts'
import { texts } from '../texts/index.ts'
import { useKept } from './kept.ts'
import { choiceFrom, kindsOf, type LineChoice, type LineFault, lineOf } from './lineChoice.ts'
import { useLine } from './useLive.tsx'

export interface ChosenLine {
  readonly choice: LineChoice
  change(part: Partial<LineChoice>): void
  /** Fields that cannot be so; told once it was tried to open the line. */
  readonly faults: readonly LineFault[]
  /** The line to be opened, kept for the next time; `null`: the form is not filled in. */
  take(): Line | null
  /** The pretend rig, whatever is chosen: each time another pull of it. */
  practise(): Line | null
  /** For people, the line that was opened before; `null`: none was. */
  readonly known: string | null
}

/**
 * The line that was chosen, in this browser, now or the last time. Where none was, it is that of the rig `usualRigId`, so
 * that a scale that was calibrated is not left out unseen.
 */
export function useLineChoice(usualRigId: string | null = null): ChosenLine {
  // A pretend pull is practice of this study alone: the next study begins with the real line, or none.
  const [lasting, keepLasting] = useKept('line')
  const [practice, keepPractice] = useKept(`line.practice.${useStudyId()}`, 'session')
  const kept = practice ?? (lasting !== null && choiceFrom(lasting).kind === 'pretend' ? null : lasting)
  const { kind: host } = useLine()
  const [own, setOwn] = useState(() => {
    const chosen = choiceFrom(kept)
    const kinds = kindsOf(host)
    return kinds.includes(chosen.kind) ? chosen : { ...chosen, kind: kinds[0] ?? 'pretend' }
  })
  const [hasRig, setHasRig] = useState(kept !== null && own.kind !== 'pretend')
  // The pretend rig has a scale of its own.
  const choice = hasRig || own.kind === 'pretend' ? own : { ...own, rigId: usualRigId }
  const [faults, setFaults] = useState<readonly LineFault[]>([])
  const known = useMemo(() => (kept === null ? null : nameOf(choiceFrom(kept))), [kept])
  const take = (from: LineChoice): Line | null => {
    const made = lineOf(from)
    if ('faults' in made) {
      setFaults(made.faults)
      return null
    }
    // Each pull of the pretend rig is another one.
    const next = from.kind === 'pretend' ? { ...from, seed: `${Number(from.seed) + 1}` } : from
    if (next.kind === 'pretend') keepPractice(JSON.stringify(next))
    else {
      keepPractice(null)
      keepLasting(JSON.stringify(next))
    }
    setOwn(next)
    if (next.kind !== 'pretend') setHasRig(true)
    return made.line
  }
  return {
    choice,
    faults,
    known,
    change(part) {
      if (part.rigId !== undefined) setHasRig(true)
      setOwn({ ...own, ...part })
      setFaults([])
    },
    take: () => take(choice),
    practise: () => take({ ...own, kind: 'pretend', rigId: null, capacityN: '', unit: '' }),
  }
}

/** Of the study whose place is open. */
function useStudyId(): string {
  const [address] = useHashLocation()
  return /^\/study\/([^/]+)/.exec(address)?.[1] ?? ''
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
