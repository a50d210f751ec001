import { texts } from '../texts/index.ts'
import type { Drafted } from './useDraft.ts'

const t = texts.app

/** Under a field whose text waits for a word: it was changed elsewhere meanwhile, or the page was left before it was kept. */
export function DraftWaits({ drafted, value }: { drafted: Drafted; value: string }) {
  const { waits, forget, commit } = drafted
  if (waits === null) return null
  return (
    <span className="trouble draft-waits" role="alert">
      {waits === 'behind' ? t.draftBehind(value) : t.draftRestored}{' '}
      <button type="button" className="button" onClick={forget}>
        {waits === 'behind' ? t.showTheirs : t.draftForget}
      </button>{' '}
      <button type="button" className="button" onClick={() => commit()}>
        {waits === 'behind' ? t.keepMine : t.draftKeep}
      </button>
    </span>
  )
}
