import { type ClipboardEvent, type KeyboardEvent, useId, useRef, useState } from 'react'
import { Link } from 'wouter'
import { peakWords } from '../../core/reading/peakWords.ts'
import { type ForceUnit, shownUnitOf } from '../../core/units/force.ts'
import type { Specimen } from '../../server/apiTypes.ts'
import { addressOf } from '../app/places.ts'
import { useMark, useUnit } from '../app/units.tsx'
import { peakUnitOf } from '../compare/logUnit.ts'
import type { OpenStudy } from '../data/backend.ts'
import { Trouble } from '../data/trouble.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { Problems } from '../parts/Problems.tsx'
import { SideScroll } from '../parts/SideScroll.tsx'
import { inReadingOrder, recordedIds } from '../read/order.ts'
import { texts } from '../texts/index.ts'
import { Changes } from './Changes.tsx'
import { ChosenActions } from './ChosenActions.tsx'
import {
  type Around,
  COLUMNS,
  type Column,
  cellText,
  FORCES,
  isOpen,
  laidIn,
  type RowChange,
  stepsOf,
} from './cells.ts'
import { clipboardCells } from './clipboard.ts'
import { Figures } from './Figures.tsx'
import { LogsOfOne } from './LogsOfOne.tsx'
import { Removed } from './Removed.tsx'
import { RigOfRecordings } from './RigOfRecordings.tsx'
import { useSpecimenEdits } from './useSpecimenEdits.ts'
import './specimens.css'

const t = texts.specimens
/** Of the part of a page that holds the table. */
export const SPECIMENS_ID = 'specimens'

/**
 * What is said of the specimens of a study, a row each: cells are typed into, filled down and pasted; rows are moved, made
 * one, removed and brought back. Whatever is done is one edit of the study's list, which can be taken back.
 */
export function SpecimensTable({ open }: { open: OpenStudy }) {
  const id = useId()
  const mark = useMark()
  const unit = useUnit(peakUnitOf([open]))
  const edits = useSpecimenEdits(open.study.id)
  const [ticked, setTicked] = useState<ReadonlySet<string>>(new Set())
  const [wrong, setWrong] = useState<Trouble | null>(null)
  /** The cell that was typed in or entered last, as it stands there: what fills down. */
  const last = useRef<{ row: number; column: Column; text: string } | null>(null)
  const specimens = inReadingOrder(open)
  const around: Around = { variants: open.variants, recorded: recordedIds(open), unit, who: edits.who }
  const chosen = specimens.filter(one => ticked.has(one.id))

  const change = async (rows: readonly RowChange[], what: string): Promise<boolean> => {
    const steps = stepsOf(rows, around)
    setWrong(steps.ok ? null : new Trouble(steps.problems))
    if (!steps.ok) return false
    return steps.value.length === 0 || edits.apply(steps.value, what)
  }
  const paste = (event: ClipboardEvent, row: number, column: Column) => {
    const text = event.clipboardData.getData('text/plain')
    const block = clipboardCells(text)
    if (block.length < 2 && (block[0]?.length ?? 0) < 2) return
    event.preventDefault()
    const rows = laidIn(block, specimens, { row, column })
    void change(rows, t.didCells(rows.length))
  }
  const fillDown = () => {
    const from = specimens[last.current?.row ?? -1]
    if (!last.current || !from) return
    const { row, column, text } = last.current
    const others = chosen.length > 0 ? chosen.filter(one => one !== from) : specimens.slice(row + 1)
    const rows = others.filter(one => isOpen(one.id, column, around))
    void change(
      [from, ...rows].map(specimen => ({ specimen, cells: { [column]: text } })),
      t.filledDown(t.columns[column], rows.length),
    )
  }
  const keyed = (event: KeyboardEvent) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'd') return
    event.preventDefault()
    fillDown()
  }
  const cellOf = (specimen: Specimen | null, row: number, column: Column, label: string) => (
    <td key={column}>
      <DraftInput
        className="specimens-cell"
        data-column={column}
        list={column === 'variant' || column === 'mode' ? `${id}-${column}` : undefined}
        inputMode={
          ['name', 'variant', 'mode', 'operator', 'batch', 'note', 'peak'].includes(column)
            ? undefined
            : 'decimal'
        }
        aria-label={t.cell(label, t.columns[column])}
        placeholder={
          specimen === null
            ? column === 'name'
              ? t.newName
              : ''
            : column === 'variant'
              ? t.notAssigned
              : column === 'day'
                ? (dayOf(open, specimen.id) ?? '')
                : ''
        }
        maxLength={column === 'note' ? 10_000 : 200}
        autoComplete="off"
        value={specimen === null ? '' : cellText(specimen, column, around)}
        onFocusCapture={event => {
          last.current = { row, column, text: event.target.value }
        }}
        onInputCapture={event => {
          last.current = { row, column, text: event.currentTarget.value }
        }}
        onPaste={event => paste(event, row, column)}
        onCommit={text =>
          void change(
            [{ specimen, cells: { [column]: text } }],
            t.didRow(specimen?.name ?? text, t.columns[column]),
          )
        }
      />
    </td>
  )
  return (
    <section className="specimens" onKeyDown={keyed} aria-label={t.heading}>
      <p className="pencil">{t.what}</p>
      <ChosenActions
        open={open}
        chosen={chosen}
        edits={edits}
        onFillDown={fillDown}
        onDone={() => setTicked(new Set())}
      />
      <Problems
        error={wrong ?? edits.error ?? (edits.problems.length > 0 ? new Trouble(edits.problems) : null)}
      />
      <SideScroll label={t.heading}>
        <table className="specimens-table">
          <thead>
            <tr>
              <th>
                <input
                  type="checkbox"
                  aria-label={t.tickAll}
                  checked={chosen.length > 0 && chosen.length === specimens.length}
                  onChange={event =>
                    setTicked(new Set(event.target.checked ? specimens.map(one => one.id) : []))
                  }
                />
              </th>
              {COLUMNS.map(column => (
                <th key={column} title={t.hints[column]}>
                  {FORCES.includes(column) ? t.inUnit(t.columns[column], unit) : t.columns[column]}
                  {column === 'name' && <span className="pencil"> ({texts.app.needed})</span>}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {specimens.map((specimen, row) => (
              <tr key={specimen.id} data-loose={specimen.variantId === null}>
                <td>
                  <input
                    type="checkbox"
                    aria-label={t.tick(specimen.name)}
                    checked={ticked.has(specimen.id)}
                    onChange={event => {
                      const next = new Set(ticked)
                      if (event.target.checked) next.add(specimen.id)
                      else next.delete(specimen.id)
                      setTicked(next)
                    }}
                  />
                </td>
                {COLUMNS.map(column =>
                  isOpen(specimen.id, column, around) ? (
                    cellOf(specimen, row, column, specimen.name)
                  ) : column === 'peak' ? (
                    <td key={column} className="specimens-read">
                      <Link
                        href={addressOf.specimen(open.study.id, specimen.id)}
                        title={t.openIt(specimen.name)}
                      >
                        {mark(peakIn(open, specimen.id, unit))}
                      </Link>
                    </td>
                  ) : (
                    <td key={column} />
                  ),
                )}
              </tr>
            ))}
            <tr className="specimens-new" key={`new-${specimens.length}`}>
              <td />
              {COLUMNS.map(column =>
                column === 'name' ? cellOf(null, specimens.length, column, t.newRow) : <td key={column} />,
              )}
            </tr>
          </tbody>
        </table>
      </SideScroll>
      <datalist id={`${id}-variant`}>
        {open.variants.map(variant => (
          <option key={variant.id} value={variant.name} />
        ))}
      </datalist>
      <datalist id={`${id}-mode`}>
        {open.study.failureModes.map(mode => (
          <option key={mode} value={mode} />
        ))}
      </datalist>
      <Figures reread={edits.reread} />
      {chosen.length === 1 && <LogsOfOne open={open} specimen={chosen[0]!} edits={edits} />}
      <RigOfRecordings open={open} chosen={chosen} edits={edits} />
      <Removed studyId={open.study.id} edits={edits} />
      <Changes studyId={open.study.id} />
    </section>
  )
}

/** The peak that the curve of a specimen shows. */
function peakIn({ readings }: OpenStudy, specimenId: string, unit: ForceUnit): string {
  const reading = readings.find(one => one.specimenId === specimenId)?.reading
  if (!reading) return texts.read.facts.notRead
  return peakWords(reading.results.peakForce, shownUnitOf(reading.recording.forceUnit, unit))
}

/** The day that the first recording tells; `null` where none does. */
const dayOf = ({ recordings }: OpenStudy, specimenId: string): string | null =>
  recordings.find(one => one.specimen?.id === specimenId && one.setAside === null)?.startedAt?.slice(0, 10) ??
  null
