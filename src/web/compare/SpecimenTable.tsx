import { useState } from 'react'
import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { useFoot } from '../app/undo.tsx'
import { useMark } from '../app/units.tsx'
import { texts } from '../texts/index.ts'
import { keyOf } from './comparedStudies.ts'
import type { Plane } from './plane.ts'
import { asSheetText, COLUMNS, type Column, filteredRows, rowsOf, sortedRows } from './tableRows.ts'

const t = texts.compare

/** Every specimen in a row: sorted by any column, filtered by words, copied as it stands. */
export function SpecimenTable({ comparison, shown, names, hovered, onHover }: Plane) {
  const [sort, setSort] = useState<{ column: Column; falling: boolean }>({ column: 'group', falling: false })
  const [filter, setFilter] = useState('')
  const mark = useMark()
  const foot = useFoot()
  const rows = sortedRows(filteredRows(rowsOf(comparison, shown), filter), sort.column, sort.falling)
  const copy = () => {
    navigator.clipboard.writeText(mark(asSheetText(rows))).then(
      () => foot.say(t.copied),
      () => foot.say(t.copyFailed),
    )
  }
  return (
    <section>
      <div className="row not-printed">
        <label>
          {t.filter}{' '}
          <input className="input" value={filter} onChange={event => setFilter(event.target.value)} />
        </label>
        <button type="button" className="button" onClick={copy}>
          {t.copy}
        </button>
      </div>
      <div className="scroll-x">
        <table>
          <thead>
            <tr>
              {COLUMNS.map(column => (
                <th
                  key={column}
                  aria-sort={sort.column !== column ? 'none' : sort.falling ? 'descending' : 'ascending'}
                >
                  <button
                    type="button"
                    className="button button-plain"
                    title={t.sortBy(t.columns[column])}
                    onClick={() => setSort({ column, falling: sort.column === column && !sort.falling })}
                  >
                    {t.columns[column]}
                    {sort.column === column && <span aria-hidden="true">{sort.falling ? ' ↓' : ' ↑'}</span>}
                  </button>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ specimen, cells }) => {
              const named = names.find(name => keyOf(name) === keyOf(specimen))
              return (
                <tr
                  key={keyOf(specimen)}
                  data-hovered={named !== undefined && hovered === named.id}
                  onPointerEnter={() => onHover(named?.id ?? null)}
                  onPointerLeave={() => onHover(null)}
                >
                  {COLUMNS.map(column => (
                    <td key={column}>
                      {column === 'specimen' && named ? (
                        <Link
                          href={addressOf.specimen(named.studyId, named.id)}
                          title={t.open(specimen.name)}
                        >
                          {cells.specimen}
                        </Link>
                      ) : (
                        mark(cells[column])
                      )}
                    </td>
                  ))}
                </tr>
              )
            })}
          </tbody>
        </table>
      </div>
    </section>
  )
}
