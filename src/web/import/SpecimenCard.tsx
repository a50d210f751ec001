import { useId } from 'react'
import type { OpenStudy } from '../data/backend.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { texts } from '../texts/index.ts'
import type { SpecimenGroup } from './assign.ts'
import { LogCard } from './LogCard.tsx'
import { useLogs } from './LogsProvider.tsx'
import type { LogItem } from './types.ts'

/** A specimen with the logs that make it: its name and variant can be written over, which also joins and parts logs. */
export function SpecimenCard({
  group,
  open,
  twins,
  lists,
}: {
  group: SpecimenGroup
  open: OpenStudy | null
  twins: ReadonlyMap<number, LogItem>
  /** Ids of the lists of names that are offered. */
  lists: { readonly specimens: string; readonly variants: string }
}) {
  const { dispatch } = useLogs()
  const id = useId()
  const ids = group.logs.map(({ item }) => item.id)
  const known = open?.specimens.find(({ name }) => name === group.specimen)
  const hadLogs = open?.recordings.filter(
    entry => entry.specimen?.id === known?.id && entry.setAside === null,
  ).length
  const from = group.logs[0]?.assignment.from ?? 'name'
  const isNewVariant = group.variant !== '' && !open?.variants.some(({ name }) => name === group.variant)
  const isKept = group.logs.every(({ item }) => item.kept === 'yes')
  return (
    <section className="import-specimen" aria-label={`${texts.import.specimen} ${group.specimen}`}>
      <div className="import-names">
        <div className="field">
          <label htmlFor={`${id}-s`}>
            {texts.import.specimen} <Aside>{texts.import.from[from]}</Aside>
          </label>
          <DraftInput
            id={`${id}-s`}
            list={lists.specimens}
            value={group.specimen}
            maxLength={200}
            disabled={isKept}
            onCommit={text => {
              if (text.trim() !== '') dispatch({ type: 'byHand', ids, byHand: { specimen: text.trim() } })
            }}
          />
        </div>
        <div className="field">
          <label htmlFor={`${id}-v`}>
            {texts.import.variant} {isNewVariant && !isKept && <Aside>{texts.import.newOne}</Aside>}
          </label>
          <DraftInput
            id={`${id}-v`}
            list={lists.variants}
            value={group.variant}
            maxLength={200}
            placeholder={texts.import.noVariant}
            disabled={isKept || (known !== undefined && known.variantId !== null)}
            onCommit={text => dispatch({ type: 'byHand', ids, byHand: { variant: text.trim() } })}
          />
        </div>
        <p className="pencil small">
          {group.logs.length > 1 && texts.import.joined(group.logs.length)}{' '}
          {known && (hadLogs ?? 0) > 0 && !isKept && texts.import.hasLogs(hadLogs ?? 0)}
        </p>
      </div>
      {group.logs.map(({ item }, i) => (
        <LogCard
          key={item.id}
          item={item}
          twin={twins.get(item.id)}
          before={group.logs[i - 1]?.item}
          after={group.logs[i + 1]?.item}
        />
      ))}
    </section>
  )
}

const Aside = ({ children }: { children: string }) => <span className="import-aside">{children}</span>
